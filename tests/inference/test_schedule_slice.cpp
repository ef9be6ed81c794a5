// SPDX-License-Identifier: MIT
/// Slices of schedules: held against the brine's own table and against direct runs.
#include "common.hpp"
#include "inference/schedule_slice.hpp"

#include "cure/two_meshes.hpp"
#include "inference/causes.hpp"
#include "inference/schedule_range.hpp"
#include "inference/why.hpp"
#include "similar_cases.hpp"

#include <catch2/catch.hpp>

#include <cmath>

namespace test_schedule_slice {

using namespace tidemark;
using namespace tidemark::inference;
using test::day;

namespace {

cure::Question kept(cure::Stage::Kind kind, double days) {
    cure::Question q = cure::in_brine(invented("sheet", 0.06));
    q.stages.front().kind = kind;
    q.stages.front().duration = days * day;
    return q;
}

/// Salt and nitrite on the meat, so much of it.
cure::Question rubbed() {
    cure::Question q = kept(cure::Stage::Kind::rub, 10);
    q.base.piece.weight = 1;
    q.stages.front().salt = 0.025;
    q.stages.front().nitrite = 120e-6;
    return q;
}

} // namespace

TEST_CASE("a brine that ends is judged as the brine without an end", "[inference]") {
    // The same question by two roads: a table over similar cases on fine cells, and a fit to some
    // dozens of runs on coarse ones. A ruler is off by 2.5 mm.
    const cure::Question open = cure::in_brine(invented("sheet", 0.06));
    const Causes table(cure::run(open, built_in()), built_in(), 4 * day, 256),
        fitted(cure::run(kept(cure::Stage::Kind::cover, 10), built_in()), built_in(), 4 * day, 256);
    REQUIRE(table.single().size() == fitted.single().size());
    CHECK(fitted.ring_error() > 0);
    CHECK(fitted.ring_error() < 1e-3);
    for (std::size_t k = 0; k < table.single().size(); ++k) {
        const Suspect &a = table.single()[k], &b = fitted.single()[k];
        CAPTURE(a.text.name);
        CHECK(a.text.name == b.text.name);
        double square = 0, days = 0;
        int both = 0;
        for (std::size_t i = 0; i < a.shown.size(); ++i) {
            square += std::pow(*a.shown[i].top - *b.shown[i].top, 2);
            if (a.through[i] > 4 * day && a.through[i] < 20 * day && std::isfinite(b.through[i])) {
                days += std::abs(std::log(a.through[i] / b.through[i]));
                ++both;
            }
            CHECK(*a.shown[i].found[0] == Approx(*b.shown[i].found[0])); // the thickness
        }
        CHECK(std::sqrt(square / static_cast<double>(a.shown.size())) < 1.5e-3);
        if (both > 20)
            CHECK(days / both < 0.06);
    }
}

TEST_CASE("a slice of a rub is what a direct run with the draw's numbers shows", "[inference]") {
    const cure::Outcome told = cure::run(rubbed(), built_in());
    const Causes causes(told, built_in(), 3 * day, 128);
    CHECK(causes.ring_error() < 1.5e-3);
    // In the middle, on fine cells: the ring ends where nitrite is as pink needs it.
    const cure::Question q = until_slice(told, 3 * day);
    const std::vector<Draw> draws = causes.single().front().draws;
    const ScheduleSlices slices = schedule_slices(q, built_in(), draws, 3 * day, 40);
    const SliceModel model(slices.lines, slices.fields);
    const cure::Outcome direct = cure::run(q, built_in());
    const cure::Grid& grid = direct.solved->fine->grid();
    const double need = direct.solved->c.kinds.front().levels.cured;
    Eigen::VectorXd excess = slice_lines(direct).at_spots(grid.arrived(3 * day)).array() - need;
    const Slice shown = slice_lines(direct).read(excess, 1);
    CHECK(*model({}, 3 * day).top == Approx(*shown.top).margin(1e-3));
    // No brine stands about it, so none can be looked at; little premix on it can be the cause.
    CHECK_FALSE(model({}, 3 * day).found[static_cast<std::size_t>(Look::brine_salt)]);
    std::vector<std::string> names;
    for (const Suspect& s : causes.single())
        names.push_back(s.text.name);
    CHECK(std::ranges::count(names, "weak-brine") == 0);
    REQUIRE(std::ranges::count(names, "little-premix") == 1);
    const Suspect& little = *std::ranges::find(causes.single(), "little-premix",
                                               [](const Suspect& s) { return s.text.name; });
    double told_ring = 0, little_ring = 0;
    for (std::size_t i = 0; i < little.shown.size(); ++i) {
        told_ring += *causes.single().front().shown[i].top;
        little_ring += *little.shown[i].top;
    }
    CHECK(little_ring < told_ring);
}

TEST_CASE("from the slice on a piece stays in its stage", "[inference]") {
    cure::Question q = rubbed();
    q.stages.front().duration = 4 * day;
    q.stages.push_back(kept(cure::Stage::Kind::rest, 5).stages.front());
    q.stages.push_back(kept(cure::Stage::Kind::rest, 5).stages.front());
    const cure::Outcome o = cure::run(q, built_in());
    const cure::Question in_rub = until_slice(o, 3 * day), in_rest = until_slice(o, 6 * day);
    REQUIRE(in_rub.stages.size() == 1);
    CHECK(*in_rub.stages[0].duration == Approx(33 * day)); // a month on
    REQUIRE(in_rest.stages.size() == 2);
    CHECK(*in_rest.stages[1].duration == Approx(32 * day));
    CHECK(until_slice(o, 40 * day).stages.size() == 3); // after its end
}

} // namespace test_schedule_slice
