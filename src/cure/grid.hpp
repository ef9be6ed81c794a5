// SPDX-License-Identifier: MIT
/// The solved fields of one piece on one mesh, and the questions asked of them.
/// A finer mesh has exactly half the node distance of the coarser, made from it by splitting, so
/// their difference tells the discretisation error.
#pragma once

#include "cure/setup.hpp"
#include "geometry/field.hpp"
#include "transport/chain.hpp"
#include "transport/draw.hpp"
#include "transport/whole.hpp"

#include <memory>
#include <optional>
#include <string>

namespace tidemark::cure {

/// Of a step where the cooler's log is followed: readings of a thermometer are noise to the
/// stepper, and on such logs this and a hundredth of it agreed within 1e-6.
inline constexpr double step_tolerance = 1e-5;

/// A clock that runs on the schedule's time, as a stage from `from` [s] on sees it.
transport::Clock from_here(const transport::Clock& clock, double from);

/// One mesh with both solutes, through one stage or several. Where the piece's length is known the
/// section stands on planes along it (transport/along.hpp): what is told at the nodes is told of
/// the section where the core lies, in the middle of the piece or at its one shut end; means, baths
/// and amounts are of the whole piece. Not movable: the lowest-point finder refers to its mesh.
class Grid {
public:
    Grid(const Setup& setup, geometry::Mesh mesh);
    Grid(const Setup& setup, geometry::Line line);
    Grid(const Grid&) = delete;
    Grid& operator=(const Grid&) = delete;

    /// What the piece holds before the first stage [kg per kg water], at the nodes of every
    /// section.
    void fill(const Eigen::VectorXd& salt, const Eigen::VectorXd& nitrite);

    /// What a stage does to one solute.
    struct Contact {
        transport::Bath bath;
        std::vector<std::string>
            sealed;                 ///< faces shut in this stage, besides the piece's own; ends
        bool closed = false;        ///< nothing touches the piece; the bath stands for nothing
        double first = 0, last = 0; ///< [s] from `from`: the span solved for
        Eigen::VectorXd coat = {};  ///< closed: put on the nodes beforehand [kg per unit]
        bool gives = false; ///< a held bath gives what tissue without any would take, draws nothing
    };
    /// A film at `concentration` [kg per kg water] on the faces a contact leaves open.
    struct Film {
        /// Times the concentration: what the nodes of all planes take [kg/s^0.5, kg/s].
        transport::Draw pull;
        double at_once = 0; ///< what wall nodes take the moment they are held at it [kg]

        Eigen::VectorXd taken(double t) const; ///< by the nodes up to `t` [s], a thin skin [kg]
        /// When all nodes together have taken a dose [kg] in [s], and the mean of the moments at
        /// which its parts went in [s]. A dose too thick for a skin: never.
        struct Times {
            double all = std::numeric_limits<double>::infinity(), middle = all;
        };
        Times times(double dose) const;
    };
    /// Of the tissue as it is at `from` [s], or where the film `gives` without any of it.
    Film film(bool nitrite, double from, const Setup& setup, const Contact& contact) const;
    /// What it has taken up by `t` [s], with none below nothing: where cells are smaller than what
    /// a corner lacks, it is taken off the nearest [kg per unit].
    Eigen::VectorXd coat(const Film& film, double t) const;
    /// Begins a stage at `from` [s], with the tissues of `setup` and its clock if it has one, which
    /// runs on the same time.
    void begin(bool nitrite, double from, const Setup& setup, const Contact& contact);

    /// The system of a bath and what solves it; `start` of the cells is the tissues' own. `like`: a
    /// section to differ from in its losses and its bath's water alone; one that is empty is given
    /// this one.
    transport::Whole assemble(const Setup& setup, bool nitrite, const Contact& contact,
                              std::optional<transport::System>* like = nullptr) const;

    /// Value at every node of the core's section: nitrite free plus reacted, nitrite free, salt
    /// [kg per kg water].
    Eigen::VectorXd arrived(double t) const;
    Eigen::VectorXd residual(double t) const;
    Eigen::VectorXd salt(double t) const;

    /// Least lean value of what counts for the cure [kg per kg water], and where.
    geometry::Lowest lowest(double t, bool nitrite) const;
    geometry::Lowest lowest(const Eigen::VectorXd& nodal) const;
    /// Least and most salt of the lean, over the whole piece [kg per kg water].
    std::pair<double, double> salt_extremes(double t) const;
    /// What the planes along the piece may err by at `t`, in a level or a mean [kg per kg water].
    double along_error(double t, bool nitrite) const;
    /// Water-weighted means over the lean [kg per kg water].
    double mean_salt(double t) const;
    double mean_arrived(double t) const;
    double mean_residual(double t) const;
    double depth(const geometry::Point& p) const; ///< to the nearest wet face [m]
    /// Nodal values read at a point of the section, or at p.x() along the line.
    double value_at(const Eigen::VectorXd& nodal, const geometry::Point& p) const;
    double mass_balance_error(double t) const; ///< the worse of the two solutes [1]
    double time_error() const;

    std::optional<geometry::Mesh> mesh;
    std::optional<geometry::Line> line;
    transport::Chain salt_chain, nitrite_chain;
    int lean = 0;
    Eigen::VectorXd water, lean_water; ///< of each node of a section, from end to end [kg]
    Eigen::Index nodes() const { return lean_water.size(); }
    const transport::Along& along() const { return along_; }
    /// Values or weights at the nodes of all planes; weights are shared out by the planes.
    Eigen::VectorXd on_planes(const Eigen::VectorXd& nodal) const;
    Eigen::VectorXd shared_out(const Eigen::VectorXd& weights) const;

private:
    void prepare(const Setup& setup);
    std::vector<transport::Medium> media(const Setup& setup, bool nitrite) const;
    transport::System section(const Setup& setup, bool nitrite, const Contact& contact) const;
    transport::Draw draw(const Setup& setup, bool nitrite, const Contact& contact) const;
    double end_pull(const Setup& setup, bool nitrite, const Contact& contact) const; ///< [1/m]
    /// How the coefficients of a stage from `from` [s] on follow the salt.
    transport::Law law_of(const Setup& setup, bool nitrite, double from,
                          const transport::System& system) const;
    /// Calls `use` with the cells, wet where the contact leaves them open.
    template <class Use> auto open(const Contact& contact, const Use& use) const;
    const std::vector<std::string>& kinds() const { return mesh ? mesh->kinds : line->kinds; }
    std::optional<geometry::Section> section_;
    transport::Along along_ = transport::one_plane();
    double diffusivity_[2] = {0, 0}; ///< of the lean along the piece [m2/s]
    double to_end_ = 0;              ///< [m]
    std::unique_ptr<geometry::LowestPoint> lowest_;
};

/// The coarse cells of a case: about `cells` across the thickness. `uneven`: it is not filled alike
/// left and right, or above and below.
std::unique_ptr<Grid> coarse_grid(const Setup& setup, double cells, bool uneven = false);
/// The same cells halved, not solved yet.
std::unique_ptr<Grid> halved(const Setup& setup, const Grid& coarse);
/// From when on a stage is to be accurate [s]: a small Fourier number, before which the change is a
/// skin thinner than a cell.
double first_of_interest(const Setup& setup, double span);

/// Where `level` passes `target` between two times of which it is below it at the first alone [s],
/// to 1e-9 of it.
double crossing(const std::function<double(double)>& level, double target, double from, double to);

/// First time in [0, last] at which `level` rises to `target`, by scanning and bracketing on the
/// continuous history [s]; 0 if it starts there, none if it never does.
std::optional<double> first_time(const std::function<double(double)>& level, double target,
                                 double first, double last);

} // namespace tidemark::cure
