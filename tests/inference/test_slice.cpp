// SPDX-License-Identifier: MIT
/// Slices read off the table against slices of cases solved directly with the draw's own numbers.
#include "common.hpp"
#include "inference/slice_model.hpp"

#include "inference/inputs.hpp"
#include "inference/sampling.hpp"
#include "similar_cases.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

namespace test_slice {

using namespace tidemark;
using namespace tidemark::inference;
using test::day;

namespace {

/// Depths from both ends of a line of a solved case to where arrived nitrite falls below the
/// target.
std::pair<double, double> direct_depths(const std::function<double(double)>& arrived, double from,
                                        double to, double target) {
    constexpr int n = 4000;
    const auto place = [&](int k) { return from + (to - from) * k / n; };
    int low = 0, high = n;
    while (low < n && arrived(place(low)) >= target) {
        ++low;
    }
    while (high > 0 && arrived(place(high)) >= target) {
        --high;
    }
    return {place(low) - from, to - place(high)};
}

struct Compared {
    double worst = 0;
    int grey = 0; ///< slices with a grey core: the others compare nothing
};

/// The greatest difference of a reading over `count` draws, [m].
Compared compare(cure::Case c, double time, int count, double cells) {
    const cure::Outcome p = cure::run(cure::in_brine(c), built_in());
    const Inputs inputs = case_inputs(c, p.solved->setup(), built_in());
    const Drawing drawing(inputs, c, p.solved->setup(), built_in());
    const SliceModel model(p);
    Eigen::MatrixXd values =
        inputs.values(uniforms(count, static_cast<Eigen::Index>(inputs.list().size()), 3));
    keep_fat_and_fibres(inputs, values);
    Compared result;
    for (Eigen::Index i = 0; i < count; ++i) {
        const Draw d = drawing(values.row(i));
        cure::Case own = drawn_case(p, inputs, values.row(i), d);
        own.at = time;
        own.cells = cells;
        const cure::Outcome q = cure::run(cure::in_brine(own), built_in());
        const Slice seen = model(d, time);
        // A core about to close lies where the profile is flat, and either solve moves it.
        if (q.first().core.arrived >= q.first().target || *seen.core_height < 0.004) {
            continue;
        }
        ++result.grey;
        const cure::Grid& grid = q.solved->fine->grid();
        const double target =
            q.first().target / q.solved->setup().tissues.at("lean").water_fraction;
        const Eigen::VectorXd arrived = grid.arrived(time);
        const auto check = [&](double own_depth, const std::optional<double>& read) {
            result.worst = std::max(result.worst, std::abs(own_depth - *read));
        };
        if (grid.line) {
            const double fat = own.piece.dimensions.fat_cap, end = grid.line->nodes.back() - fat;
            const auto [a, b] = direct_depths(
                [&](double x) { return grid.value_at(arrived, geometry::Point(x, 0)); }, 0, end,
                target);
            check(b, seen.top);
            if (c.piece.shape == "sheet") {
                check(a, seen.bottom);
                check(end - a - b, seen.core_height);
            } else {
                check(2 * (end - b), seen.core_height);
                check(b, seen.left);
            }
            continue;
        }
        // An ellipse of the power 2.6 without fat or bones: its lean runs from edge to edge.
        const geometry::Box box = geometry::bounds(q.solved->setup().section->outline);
        std::vector<double> row(4001);
        geometry::rasterise(*grid.mesh, {box.low.x(), 0, box.width() / 4000, 4001, 1},
                            [&](int cell, int t, const std::array<double, 3>& w) {
                                const auto& k = grid.mesh->triangles[t];
                                row[cell] = w[0] * arrived[k[0]] + w[1] * arrived[k[1]] +
                                            w[2] * arrived[k[2]];
                            });
        row.front() = row.back() = arrived.maxCoeff(); // the brine itself
        const auto level = direct_depths(
            [&](double x) { return row[std::lround((x - box.low.x()) / box.width() * 4000)]; },
            box.low.x(), box.high.x(), target);
        check(level.first, seen.left);
        check(level.second, seen.right);
        check(box.width() - level.first - level.second, seen.core_width);
    }
    return result;
}

} // namespace

TEST_CASE("rings read off the table are those of direct solves within 0.5 mm", "[inference]") {
    // Asked for: 0.5 mm, a fifth of what a ruler is off. Cells of the direct solves are finer.
    cure::Case capped = invented("sheet", 0.07, 1.2);
    capped.piece.dimensions.fat_cap = 0.01;
    struct Row {
        cure::Case question;
        double time;
        int count;
        double cells;
    };
    cure::Case still = invented("sheet", 0.06);
    still.brine.film = 2e-7;
    const Row rows[] = {{invented("sheet", 0.07), 3 * day, 24, 48},
                        {capped, 5 * day, 24, 48},
                        {still, 3 * day, 24, 48},
                        {invented("round", 0.08, 1.5), 4 * day, 24, 48},
                        {invented("loin", 0.08, 2.5), 3 * day, 6, 32}};
    for (const Row& row : rows) {
        const Compared result = compare(row.question, row.time, row.count, row.cells);
        CAPTURE(row.question.piece.shape, row.question.piece.dimensions.fat_cap);
        CHECK(result.grey >= row.count / 3);
        CHECK(result.worst < 0.5e-3);
    }
}

TEST_CASE("the last spot turns pink when a direct solve says so, and a slice then shows no grey",
          "[inference]") {
    for (const char* shape : {"sheet", "round", "ball"}) {
        const cure::Outcome p = cure::run(cure::in_brine(invented(shape, 0.06)), built_in());
        const SliceModel model(p);
        const double t = model.through_time({}, 100 * day);
        CAPTURE(shape);
        CHECK(std::abs(t / *p.first().cured - 1) <
              0.01); // of the surface of days, as for forward.hpp
        CHECK(model({}, 1.02 * t).through);
        CHECK(model({}, 1.02 * t).core_height == 0.0);
        CHECK_FALSE(model({}, 0.98 * t).through);
        CHECK(*model({}, 0.9 * t).core_height > 0);
        CHECK(std::isinf(model.through_time({}, 0.9 * t)));
        // Where it is pink throughout, the rings meet: in the middle, for these shapes.
        CHECK(*model({}, 1.5 * t).top == Approx(0.03).epsilon(0.02));
    }
}

TEST_CASE("a sealed face has no ring until all else is pink", "[inference]") {
    cure::Case c = invented("sheet", 0.04);
    c.piece.dimensions.sealed = {"bottom"};
    const SliceModel model(cure::run(cure::in_brine(c), built_in()));
    const Slice s = model({}, 4 * day);
    CHECK(s.bottom == 0.0);
    CHECK(*s.top > 0.005);
    CHECK(*s.top + *s.core_height == Approx(0.04));
    CHECK_FALSE(s.left.has_value());
}

namespace {

std::vector<std::array<geometry::Point, 2>> drawn(const cure::Case& c, const Slice& seen) {
    return slice_lines(cure::run(cure::in_brine(c), built_in())).strokes(seen, 0.003);
}

} // namespace

TEST_CASE("strokes for a picture stand as deep as the ring was seen, under fat where lean begins",
          "[inference]") {
    cure::Case sheet = invented("sheet", 0.06);
    sheet.piece.dimensions.fat_cap = 0.01;
    Slice seen;
    seen.top = 0.008;
    seen.bottom = 0.005;
    const auto two = drawn(sheet, seen);
    REQUIRE(two.size() == 2); // the middle of the piece is the picture's origin
    CHECK(two[0][0].y() == Approx(0.03 - 0.01 - 0.008));
    CHECK(two[1][0].y() == Approx(-0.03 + 0.005));
    CHECK(two[0][0].x() == Approx(-two[0][1].x()));
    seen = {};
    seen.every = 0.012;
    cure::Case block = invented("block", 0.06);
    block.piece.dimensions.width = 0.1;
    block.cells = 12;
    const auto four = drawn(block, seen);
    REQUIRE(four.size() == 4);
    CHECK(four[0][0].y() == Approx(0.03 - 0.012));
    CHECK(four[1][1].y() == Approx(-0.03 + 0.012));
    CHECK(four[2][0].x() == Approx(-0.05 + 0.012));
    CHECK(four[3][0].x() == Approx(0.05 - 0.012));
    CHECK(drawn(invented("round", 0.06), seen)[3][0].x() == Approx(0.03 - 0.012));
}

TEST_CASE("the size of a core is put beyond the ring that is told, and not drawn twice",
          "[inference]") {
    Slice seen{.core_height = 0.02};
    const auto heights = [&] {
        std::vector<double> y;
        for (const auto& stroke : drawn(invented("sheet", 0.06), seen))
            y.push_back(stroke[0].y());
        std::ranges::sort(y);
        return y;
    };
    CHECK(heights()[0] == Approx(-0.01));
    CHECK(heights()[1] == Approx(0.01));
    seen.top = 0.005; // the core lies from 25 to 5 mm above the middle
    REQUIRE(heights().size() == 2);
    CHECK(heights()[0] == Approx(0.005));
    CHECK(heights()[1] == Approx(0.025));
    seen.bottom = 0.035;
    CHECK(heights().size() == 2);
    CHECK(heights()[0] == Approx(0.005));
}

TEST_CASE("a brine without nitrite has no slice to judge", "[inference]") {
    cure::Case c = invented("sheet", 0.03);
    c.brine.nitrite.reset();
    const cure::Outcome p = cure::run(cure::in_brine(c), built_in());
    CHECK_THROWS_WITH(
        SliceModel(p),
        "--brine-nitrite: a slice tells by its colour, and this brine has no nitrite; "
        "add --brine-nitrite or --premix, or leave the slice out");
}

TEST_CASE("a reading is normal about the prediction, but a slip does not rule it out",
          "[inference]") {
    const Slice predicted{.top = 0.010, .bottom = 0.014, .core_height = 0.02};
    const auto of = [&](Slice seen) { return log_likelihood(seen, predicted); };
    const double sd = 2.5e-3, peak = 1 / (sd * std::sqrt(2 * M_PI));
    CHECK(of({}) == 0);
    CHECK(of({.left = 0.01}) == 0); // nothing to hold it against
    CHECK(of({.top = 0.010}) == Approx(std::log(peak * (0.98 + 0.002))));
    CHECK(of({.top = 0.0125}) ==
          Approx(std::log(peak * (0.98 * std::exp(-0.5) + 0.002 * std::exp(-0.005)))));
    CHECK(of({.top = 0.035}) == Approx(std::log(peak * 0.002 * std::exp(-0.5)))); // ten sd off
    // Two readings: a quarter of each error squared is common, so that both deep are likelier than
    // one deep and one shallow. Two normals of variance sd^2 with correlation 1/4, each 1.4 sd off;
    // slips are rare here.
    const auto pair = [&](double a, double b) {
        const double r = 0.25, rest = 1 - r * r;
        return std::log(peak * peak / std::sqrt(rest) *
                        std::exp(-(a * a - 2 * r * a * b + b * b) / (2 * rest)));
    };
    CHECK(of({.top = 0.0135, .bottom = 0.0175}) == Approx(pair(1.4, 1.4)).margin(0.05));
    CHECK(of({.top = 0.0135, .bottom = 0.0105}) == Approx(pair(1.4, -1.4)).margin(0.05));
    // A core is smaller by two rings that are read too deep.
    CHECK(of({.top = 0.0125, .core_height = 0.015}) > of({.top = 0.0125, .core_height = 0.025}));
    CHECK(of({.every = 0.012}) == Approx(0.5 * (of({.top = 0.012}) + of({.bottom = 0.012}))));
    // A core of 20 mm is eight sd from unseen, one of none is never seen.
    CHECK(of({.through = true}) == Approx(std::log(0.01)).epsilon(1e-6));
    CHECK(log_likelihood({.through = true}, {.core_height = 0.0}) == Approx(std::log(0.99)));
}

} // namespace test_slice
