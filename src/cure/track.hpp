// SPDX-License-Identifier: MIT
/// A question followed on one mesh: stages begun one after another, their ends found where they
/// wait for something, and the state read at any time. The pieces, and for a pumped one the plane
/// across the needles, go through the same stages.
#pragma once

#include "cure/coefficients.hpp"
#include "cure/outcome.hpp"
#include "cure/tank.hpp"

#include <functional>
#include <memory>
#include <vector>

namespace tidemark::cure {

/// Where something happens to a kind of piece [s]; none: not as far as was looked.
struct Times {
    std::optional<double> cured, lasting; ///< the core, before the end
    std::optional<double> salted;         ///< the mean, before the end
    std::optional<double> last_good;      ///< last time to end the last dosing stage, by its salt
};

class Track {
public:
    /// `across`: the plane across the needles, shut throughout, or none. `coarse` is the same
    /// question on the meshes these were made from, if they were: it tells how far each stage has
    /// to be solved. Keeps a reference to `c`.
    Track(const Question& question, const Coefficients& c, std::vector<std::unique_ptr<Grid>> grids,
          std::unique_ptr<Grid> across, const Track* coarse = nullptr);

    struct Span {
        double from = 0, to = 0, solved = 0; ///< [s]; solved: from `from`
        bool met = true;
        /// What lies on a piece of each kind.
        struct Rub {
            std::optional<double> gone; ///< its salt used up [s]
            /// These cells cannot see it going in: put on the faces at once; its salt, nitrite.
            bool coated[2] = {false, false};
        };
        std::vector<Rub> rubs;
    };
    const std::vector<Span>& spans() const { return spans_; }
    double end() const { return spans_.back().to; }
    const Times& times(std::size_t kind) const { return times_[kind]; }
    const Reading& start(std::size_t kind) const {
        return start_[kind];
    } ///< before the first stage

    /// The state of a kind of piece at a time [s]; its core is read where a finer mesh has it, if
    /// that is given.
    Reading at(double t, std::size_t kind,
               const std::optional<geometry::Point>& core_at = {}) const;
    /// Salt over salt and water where it cured last [1].
    double core_water_salt(double t, std::size_t kind) const;
    geometry::Point core_at(double t, std::size_t kind) const;
    /// Nodal values of what tells the core's place: nitrite arrived, or salt, as much as it was
    /// before any soak. Colour that has met its nitrite stays when a soak takes out what is still
    /// free; salt taken out is gone, but does not move the core to the face.
    Eigen::VectorXd cure(const Grid& grid, double t) const;
    /// What counts for the cure, least of the lean [kg per kg water].
    double core(double t, std::size_t kind) const;
    bool between_needles(double t) const; ///< what rows of needles leave out counts
    double mass_balance_error() const;

    const Grid& grid(std::size_t kind = 0) const { return tank_[kind]; }
    const Grid* across() const { return across_.get(); }
    const Tank& tank() const { return tank_; }
    /// A kind of piece that is still among the others at `t` [s]; the last to go, if none is.
    std::size_t still_in(double t) const;
    /// How far the last stage has been solved [s].
    double solved() const { return spans_.back().from + spans_.back().solved; }

private:
    using Level = std::function<double(double)>;
    void follow(std::size_t stage, double from, const Track* coarse);
    void begin(std::size_t stage, double from, double first, double solve, const Span* coarse);
    void bathe(bool nitrite, std::size_t stage, double from, double first, double last);
    void wet(bool nitrite, std::size_t stage, double from, double first, double last,
             const std::optional<double>& strength);
    void dry(bool nitrite, std::size_t kind, const StageSetup& s, double solve, Span& span);
    void plane(std::size_t stage, double from, double solve);
    Level until(const Until& until, Stage::Kind does, double from, std::size_t kind) const;
    std::optional<double> when(const Stage& stage, double from, double solve) const;
    void find(const Track* coarse);
    std::optional<double> reached(const Level& level, double target,
                                  const std::optional<double>& near) const;
    std::optional<double> last_good(std::size_t kind, const std::optional<double>& near) const;
    double surface(double t, std::size_t kind) const;
    /// core(), of what it is read off.
    double core_of(const geometry::Lowest& low, const Grid& grid, const Eigen::VectorXd& counts,
                   double t) const;
    double even(double t, std::size_t kind) const;
    std::pair<double, double>
    extremes(double t, std::size_t kind) const; ///< least, most salt of the lean [kg/kg water]
    /// How far the plane across the needles falls short of, and goes beyond, its mean.
    std::pair<double, double> rows(const Eigen::VectorXd& nodal) const;
    const Tissue& lean(std::size_t kind) const { return c_.kinds[kind].setup().tissues.at("lean"); }
    const Stage& stage(std::size_t k) const { return c_.stages()[k].stage; }
    double out(std::size_t kind) const; ///< when it leaves the others [s]
    const Question& question_;
    const Coefficients& c_;
    Tank tank_;
    std::unique_ptr<Grid> across_;
    std::size_t last_dosing_ = 0;
    std::vector<Span> spans_;
    std::vector<Times> times_;
    std::vector<Reading> start_;
    std::vector<Eigen::VectorXd> rim_; ///< weights of the lean that is told as the surface
    /// Salt's and nitrite's, as the last cover left them; of each kind its share.
    std::vector<std::pair<transport::Bath, transport::Bath>> brine_;
};

} // namespace tidemark::cure
