// SPDX-License-Identifier: MIT
/// A schedule followed on one mesh: stages begun one after another, their ends found where they
/// wait for something, and the state read at any time. The section and, for a pumped piece, the
/// plane across the needles go through the same stages.
#pragma once

#include "cure/plan.hpp"
#include "cure/solved.hpp"

#include <functional>
#include <memory>
#include <vector>

namespace tidemark::cure {

/// A stage in coefficients.
struct StageSetup {
    Stage stage;       ///< its log on the schedule's time
    Setup setup;       ///< tissues at the stage's temperature, its baths, its clock
    double warmth = 0; ///< the stage's temperature [K], of its log the mean: what `setup` is of
    bool on = false;   ///< cover: the brine of the cover before goes on
    /// rub and bag: load less what drips off saturated, and the water that stays [kg per unit].
    struct Dose {
        double load = 0, drip = 0, kept_water = 0;
    } salt, nitrite;
    double lost = 0; ///< rub and bag: water that drips off [kg per kg raw lean]
};

/// What the schedule is judged by: concentrations in the water of the lean [kg per kg water], and
/// two records of practice.
struct Levels {
    bool nitrite = false;
    double cured = 0, lasting = 0; ///< of the core
    double too_salty = 0;          ///< of the mean
    double surface = 0;            ///< depth of the lean that is told as the surface [m]
    double between_needles = 0;    ///< lack of cure that is told, over the core's [1]
};

/// The plane across the needles, shut throughout. The section sees needles as stripes, averaged
/// along the piece; what it cannot see is how far lean between rows falls short of that, and this
/// plane tells it.
struct Plane {
    std::unique_ptr<Grid> grid;
    double pitch = 0;     ///< from needle to needle in a row [m]; 0: the section knows no stripes
    bool upright = false; ///< rows run along y
};

class Track {
public:
    /// `plane.grid` may be empty. `coarse` is the same schedule on the mesh this one was made from,
    /// if it was: it tells how far each stage has to be solved.
    Track(const std::vector<StageSetup>& stages, const Levels& levels,
          std::unique_ptr<Grid> section, Plane plane, const Track* coarse = nullptr);

    Reading start; ///< what it is filled with, before the first stage

    struct Span {
        double from = 0, to = 0, solved = 0; ///< [s]; solved: from `from`
        bool met = true;
        std::optional<double> gone; ///< salt of a rub used up [s]
        /// A rub that these cells cannot see going in: put on the faces at once; its salt, nitrite.
        bool coated[2] = {false, false};
    };
    const std::vector<Span>& spans() const { return spans_; }
    double end() const { return spans_.back().to; }
    /// Last time to end the last cover, rub or bag stage [s], by its salt.
    std::optional<double> last_good;

    /// First time the core is at `level` [s] within the schedule; in a cure by salt alone only if
    /// it still is at the end.
    std::optional<double> core_time(double level) const;
    /// The state at a time [s].
    Reading at(double t) const;
    /// Nodal values of what tells the core's place: nitrite arrived, or salt, as much as it was
    /// before any soak. Colour that has met its nitrite stays when a soak takes out what is still
    /// free; salt taken out is gone, but does not move the core to the face.
    Eigen::VectorXd cure(const Grid& grid, double t) const;
    double core(double t) const; ///< what counts for the cure, least of the lean [kg per kg water]
    bool between_needles(double t) const; ///< what rows of needles leave out counts
    double mass_balance_error() const;

    std::unique_ptr<Grid> section, across;

private:
    void begin(const StageSetup& s, double from, double solve, const Span* coarse);
    void dry(bool nitrite, const StageSetup& s, double solve, Span& span);
    void seal(Grid& grid, bool nitrite, const StageSetup& s, double from, double last);
    std::optional<double> when(const Until& until, Stage::Kind kind, double from,
                               double solve) const;
    double surface(double t) const;
    double even(double t) const;
    std::pair<double, double>
    extremes(double t) const; ///< least and most salt of the lean [kg per kg water]
    /// How far the plane across the needles falls short of, and goes beyond, what stripes show.
    std::pair<double, double> rows(const Eigen::VectorXd& nodal) const;
    const Tissue& lean() const { return stages_.front().setup.tissues.at("lean"); }
    const std::vector<StageSetup>& stages_;
    Levels levels_;
    std::vector<Span> spans_;
    Eigen::MatrixXd
        modes_; ///< of the plane's nodes: the cosines along a row, averaged along the piece
    Eigen::VectorXd rim_; ///< weights of the lean that is told as the surface
    std::optional<std::pair<transport::Bath, transport::Bath>>
        brine_; ///< as the last cover left it
};

} // namespace tidemark::cure
