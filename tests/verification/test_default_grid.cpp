// SPDX-License-Identifier: MIT
/// What the tool's usual grid is good for: 24 cells across the thickness, refined once, and the
/// answer fine + (fine - coarse) / 3 with |fine - coarse| / 3 as the error it claims. Sheet and
/// disc against their exact series, bone-in pieces (invented) against the same cells refined three
/// times and extrapolated. Required: half-way time of the core within 0.02 % (sheet), 0.05 % (disc)
/// and 0.1 % (pieces); maps within 1 % of the brine's strength at every coarse node and at random
/// places at a quarter, half and all of that time; and the claim not below the true error.
#include "common.hpp"
#include "geometry/field.hpp"
#include "geometry/shapes.hpp"
#include "verification/closed_forms.hpp"
#include "verification/fields.hpp"
#include "verification/lines.hpp"

#include <boost/math/tools/roots.hpp>
#include <catch2/catch.hpp>

#include <cmath>
#include <memory>
#include <string>

namespace test_default_grid {

using namespace tidemark;
using namespace tidemark::verification;
using geometry::Point;
using test::day;

namespace {

constexpr int cells = 24;
constexpr double map_allowed = 0.01; ///< of the brine's strength

/// A number found on the coarse and on the fine grid.
struct Pair {
    double coarse, fine;
    double answer() const { return fine + (fine - coarse) / 3; }
    double claim() const { return std::abs(fine - coarse) / 3; }
};

void check(const Pair& found, double truth, double relative) {
    const double error = std::abs(found.answer() - truth);
    CAPTURE(found.coarse, found.fine, truth, error / truth, found.claim() / truth);
    CHECK(error <= relative * truth);
    CHECK(error <= found.claim());
}

/// One solved mesh.
class Solved {
public:
    Solved(geometry::Mesh m, const std::vector<transport::Medium>& media,
           const transport::Bath& bath, double first, double last)
        : mesh(std::move(m)), system(transport::assemble(mesh, media, bath)),
          history_(system, first, last), first_(first), loss_(media[0].loss) {}
    /// What has arrived, free or reacted.
    Eigen::VectorXd map(double t) const { return nodal(system, history_.arrived(t, loss_)); }
    double read(const Eigen::VectorXd& map, const Point& p) const {
        return locate(mesh, p).value(mesh, map);
    }
    /// Time at which the lowest place of a region, fitted as the tool does, reaches `level`.
    double core_time(int region, double level) const {
        const geometry::LowestPoint lowest(mesh, region);
        std::uintmax_t steps = 100;
        const auto r = boost::math::tools::toms748_solve(
            [&](double t) { return lowest(map(t)).value - level; }, first_, history_.last(),
            boost::math::tools::eps_tolerance<double>(40), steps);
        return (r.first + r.second) / 2;
    }
    geometry::Mesh mesh;
    transport::System system;

private:
    transport::Spectrum history_;
    double first_, loss_; // one loss in all tissue
};

/// Maps at a quarter, half and all of `time`: the fine one at the coarse nodes and at random
/// places, read by straight lines, and the extrapolated one against what it claims.
template <class Truth> // of places and time
void check_maps(const Solved& coarse, const Solved& fine, double time, Truth truth) {
    const auto n = static_cast<Eigen::Index>(coarse.mesh.nodes.size());
    for (double share : {0.25, 0.5, 1.0}) {
        CAPTURE(share);
        const double t = share * time;
        const Eigen::VectorXd u = fine.map(t), nodes = truth(coarse.mesh.nodes, t);
        const Eigen::VectorXd step = u.head(n) - coarse.map(t);
        CHECK((u.head(n) - nodes).cwiseAbs().maxCoeff() < map_allowed);
        CHECK((u.head(n) + step / 3 - nodes).cwiseAbs().maxCoeff() <
              step.cwiseAbs().maxCoeff() / 3);
        const auto places = random_points(coarse.mesh, 400, 20240);
        const Eigen::VectorXd there = truth(places, t);
        double apart = 0;
        for (std::size_t i = 0; i < places.size(); ++i)
            apart = std::max(apart, std::abs(fine.read(u, places[i]) - there[i]));
        CHECK(apart < map_allowed);
    }
}

} // namespace

TEST_CASE("the usual grid finds a sheet's half-way time within 0.02 %", "[verification]") {
    // The whole sheet, both faces wet, 24 intervals and 48: its middle is a node.
    transport::Bath bath;
    bath.concentration = 1;
    const auto half_time = [&](int n) {
        const auto line = geometry::line({{"lean", 2 * half}}, n, 0, true, true);
        const auto system = transport::assemble(line, {{omega, D}}, bath);
        const transport::Spectrum history(system, 0.05 * unit_time, unit_time);
        Eigen::VectorXd one = Eigen::VectorXd::Zero(system.capacity.size());
        one[system.unknown[n / 2]] = 1;
        return crossing(history, one, 0.5, 0.05 * unit_time);
    };
    check({half_time(cells), half_time(2 * cells)}, profile(0, 0).crossing(0.5, 2) * unit_time,
          2e-4);
}

TEST_CASE("the usual grid finds a disc's half-way time within 0.05 % and its maps within 1 %",
          "[verification]") {
    const double R = 0.04, scale = R * R / D;
    transport::Bath bath;
    bath.concentration = 1;
    const double truth = profile(1, 0).crossing(0.5, 2) * scale;
    const auto mesh = geometry::triangulate(section(ellipse(0, 0, R, R, 720)), 2 * R / cells);
    const Solved coarse(mesh, {{omega, D}}, bath, truth / 20, 2 * truth);
    const Solved fine(geometry::refine(mesh), {{omega, D}}, bath, truth / 20, 2 * truth);
    check({coarse.core_time(0, 0.5), fine.core_time(0, 0.5)}, truth, 5e-4);
    check_maps(coarse, fine, truth, [&](const std::vector<Point>& places, double t) {
        Eigen::VectorXd u(places.size());
        for (std::size_t i = 0; i < places.size(); ++i)
            u[i] = profile(1, std::hypot(places[i].x(), places[i].y()) / R, 20).at(t / scale);
        return u;
    });
}

TEST_CASE(
    "the usual grid finds the half-way day of bone-in pieces within 0.1 % and maps within 1 %",
    "[verification]") {
    struct Piece {
        const char* shape;
        double thickness, width, fat_cap;
        int bones;
        double ratio, loss, bath; // bath water, kg per metre
    };
    const auto piece = GENERATE(Piece{"loin", 0.080, 0.128, 0.006, 3, 1, 0, 3},
                                Piece{"loin", 0.070, 0.140, 0.010, 2, 1.3, 2e-7, 4},
                                Piece{"ham", 0.120, 0.160, 0.008, 1, 1, 0, 8});
    CAPTURE(piece.shape, piece.bones);
    geometry::Dimensions d;
    d.thickness = piece.thickness;
    d.width = piece.width;
    d.fat_cap = piece.fat_cap;
    d.bones = piece.bones;
    const auto s =
        piece.shape == std::string("ham") ? geometry::ham(d, "piece") : geometry::loin(d, "piece");
    const auto base = geometry::triangulate(s, d.thickness / cells);
    std::vector<transport::Medium> media;
    for (const auto& kind : base.kinds)
        media.push_back(kind == "fat"
                            ? transport::Medium{100, 1e-10, 1, 0, piece.loss}
                            : transport::Medium{780, 2.4e-10, piece.ratio, 0.4, piece.loss});
    transport::Bath bath;
    bath.concentration = 1;
    bath.partition = 0.95;
    bath.water = piece.bath;
    bath.loss = piece.loss;
    std::vector<std::unique_ptr<Solved>> grids; // coarse, fine, and two finer for the truth
    std::vector<double> time;
    for (int level = 0; level < 4; ++level) {
        grids.push_back(
            std::make_unique<Solved>(refined(base, level), media, bath, 3 * day, 300 * day));
        const auto& system = grids[0]->system; // half of what the lean comes to at balance
        const double half_way = 0.5 * system.capacity.dot(system.initial) / system.capacity.sum();
        time.push_back(grids[level]->core_time(region_of(base.kinds, "lean"), half_way));
    }
    const double truth = Pair{time[2], time[3]}.answer();
    check({time[0], time[1]}, truth, 1e-3);
    check_maps(*grids[0], *grids[1], truth, [&](const std::vector<Point>& places, double t) {
        const Eigen::VectorXd u2 = grids[2]->map(t), u3 = grids[3]->map(t);
        Eigen::VectorXd u(places.size());
        for (std::size_t i = 0; i < places.size(); ++i)
            u[i] = Pair{grids[2]->read(u2, places[i]), grids[3]->read(u3, places[i])}.answer();
        return u;
    });
}

} // namespace test_default_grid
