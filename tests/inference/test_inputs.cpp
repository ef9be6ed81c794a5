// SPDX-License-Identifier: MIT
/// Spreads read from records, inputs learnt jointly, and which inputs a case has.
#include "inference/inputs.hpp"

#include "base/error.hpp"
#include "inference/sampling.hpp"
#include "similar_cases.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

namespace test_inputs {

using namespace tidemark;
using namespace tidemark::inference;

namespace {

constexpr double two_thirds =
    0.8413447461; // of the normal distribution below one sigma, from memory

Inputs inputs_of(const cure::Case& c) {
    base::Records r = built_in();
    return case_inputs(c, cure::make_setup(c, r), built_in());
}

} // namespace

TEST_CASE("a spread is read as it is written in the records", "[inference]") {
    CHECK(factor_spread("gsd 1.5", 7).at(two_thirds) == Approx(1.5).epsilon(1e-9));
    CHECK(factor_spread("gsd 1.5", 7).at(0.5) == Approx(1).epsilon(1e-12));
    CHECK(factor_spread("sd 4", 25).at(two_thirds) == Approx(1.16).epsilon(1e-9));
    CHECK(shift_spread("sd 0.1").at(two_thirds) == Approx(0.1).epsilon(1e-9));
    const Distribution range = factor_spread("range 0.88 .. 1.02", 0.95);
    CHECK(range.at(1e-12) == Approx(0.88 / 0.95));
    CHECK(range.at(0.5) == Approx(1));
    CHECK(factor_spread("none stated", 3).certain());
    CHECK_THROWS_AS(factor_spread("about a third", 1), base::RunError);
    CHECK_THROWS_AS(shift_spread("gsd 2"), base::RunError);
}

TEST_CASE("inputs learnt jointly have the mean, the spread and the correlation given",
          "[inference]") {
    Inputs inputs;
    inputs.add({"diffusivity", "diffusivity", factor_spread("gsd 1.5", 1)});
    inputs.add({"certain", "certain", {}});
    inputs.add({"thickness", "thickness", factor_spread("sd 0.05", 1)});
    inputs.add({"loss", "loss", factor_spread("gsd 2", 1)});
    REQUIRE(inputs.list().size() == 3);
    REQUIRE(inputs.groups().size() == 3);
    const Eigen::Vector2d mean(0.2, -0.3);
    Eigen::Matrix2d covariance;
    covariance << 0.04, 0.03, 0.03, 0.09;
    inputs.joint({"diffusivity", "loss"}, mean, covariance);
    CHECK(inputs.groups() == std::vector<std::string>{"diffusivity", "thickness"});
    const Eigen::MatrixXd v = inputs.values(uniforms(1 << 14, 3, 1));
    const Eigen::ArrayXd d = v.col(0).array().log(), l = v.col(2).array().log();
    // 16384 even points: good to a thousandth.
    CHECK(d.mean() == Approx(0.2).margin(1e-3));
    CHECK(l.mean() == Approx(-0.3).margin(1e-3));
    CHECK((d - d.mean()).square().mean() == Approx(0.04).margin(1e-3));
    CHECK((l - l.mean()).square().mean() == Approx(0.09).margin(1e-3));
    CHECK(((d - d.mean()) * (l - l.mean())).mean() == Approx(0.03).margin(1e-3));
    CHECK(v.col(1).mean() == Approx(1).margin(1e-3));
    covariance(0, 0) = -1;
    CHECK_THROWS_AS(inputs.joint({"diffusivity", "loss"}, mean, covariance), base::RunError);
}

TEST_CASE("a flag gives the middle and keeps the spread, unless it does away with the input",
          "[inference]") {
    const cure::Case plain = invented("sheet", 0.06);
    const Inputs all = inputs_of(plain);
    for (const char* name :
         {"diffusivity", "nitrite-ratio", "thickness", "cooler", "partition", "threshold",
          "myoglobin", "lasting", "eye", "loss", "ph", "salt", "premix"}) {
        CAPTURE(name);
        CHECK(all.column(name) >= 0);
    }
    CHECK(all.column("handling") == -1);

    cure::Case c = plain;
    c.overrides = {{"muscle.pork-loin.diffusivity", "3e-10 m2/s", "--diffusivity"},
                   {"loss", "8 d", "--loss"},
                   {"uncertainty.thickness", "0 mm", "--thickness-sd"},
                   {"uncertainty.cooler", "2 K", "--cooler-sd"}};
    const Inputs set = inputs_of(c);
    const auto spread = [](const Inputs& inputs, const char* name) {
        return inputs.list()[static_cast<std::size_t>(inputs.column(name))].spread;
    };
    // What all meat shares (models/posterior.ini, and a hundredth for the brine's strength) on top
    // of 1.24 in models/muscles.ini and 1.38 in models/kinetics.ini.
    const auto together = [](double own, const char* key) {
        return std::exp(std::hypot(std::log(own), built_in().find(key)->value));
    };
    CHECK(spread(set, "diffusivity").b ==
          Approx(together(1.24, "posterior.pork-speed.sd")).epsilon(0.01));
    CHECK(spread(set, "loss").b == Approx(together(1.38, "posterior.half-life.sd")).epsilon(1e-9));
    CHECK(set.column("ph") == -1); // a loss that is set asks no pH
    CHECK(set.column("thickness") == -1);
    CHECK(spread(set, "cooler").b == 2);

    c.overrides = {{"loss", "none", "--loss"}};
    CHECK(inputs_of(c).column("loss") == -1);
    c = plain;
    c.brine.nitrite.reset();
    CHECK(inputs_of(c).groups() ==
          std::vector<std::string>{"diffusivity", "thickness", "cooler", "partition", "brine"});
    c.piece.frozen = true;
    CHECK(inputs_of(c).column("handling") == 1);
    // One without a cap has no fat to draw, an endless one no fibres that matter.
    CHECK(inputs_of(c).column("fat") == -1);
    CHECK(inputs_of(c).column("fibre-ratio") == -1);
    // Nor does another activation energy move anything near 4 C.
    CHECK(inputs_of(c).column("activation-energy") == -1);
    c.temperature = 283.15;
    CHECK(inputs_of(c).column("activation-energy") >= 0);
}

TEST_CASE("a spoon spreads the brine by its own factor", "[inference]") {
    cure::Case c = invented("sheet", 0.06, 1);
    c.brine = {};
    c.brine.water = 2;
    c.brine.salt_added = 0.1;
    c.brine.premix = 0.01;
    c.brine.spread.salt = 1.2;
    base::Records r = built_in();
    const cure::Setup setup = cure::make_setup(c, r);
    const Inputs inputs = case_inputs(c, setup, built_in());
    const auto salt = inputs.column("salt");
    CHECK(inputs.list()[static_cast<std::size_t>(salt)].spread.b == 1.2);
    Eigen::VectorXd values = inputs
                                 .values(Eigen::MatrixXd::Constant(
                                     1, static_cast<Eigen::Index>(inputs.list().size()), 0.5))
                                 .row(0);
    const Drawing drawing(inputs, c, setup, built_in());
    values[salt] = 1.2;
    const Draw draw = drawing(values);
    // The salt of the premix, 9.375 g of it, is weighed.
    CHECK(draw.salt == Approx((120 + 9.375) / (100 + 9.375)).epsilon(1e-9));
    CHECK(draw.nitrite == Approx(1).epsilon(1e-12));
    CHECK(draw.water == Approx(1).epsilon(1e-12));
}

TEST_CASE("fat, fibres and warmth move the day of the core as solved cases do", "[inference]") {
    // The day by the engine with the number changed, against the draw's pace.
    const auto day = [](const cure::Case& c) {
        const cure::Outcome p = cure::run(cure::in_brine(c), built_in());
        REQUIRE(p.first().cured);
        return *p.first().cured;
    };
    cure::Case capped = invented("sheet", 0.06), loin = invented("loin", 0.08),
               joint = invented("block", 0.06);
    capped.piece.dimensions.fat_cap = loin.piece.dimensions.fat_cap = 0.008;
    loin.piece.dimensions.width = 0.14;
    joint.piece.dimensions.width = 0.08;
    joint.piece.length = 0.07;
    struct Row {
        const cure::Case& c;
        const char *key, *input;
        double factor, margin; ///< of the logarithm of the day
    };
    for (const Row& row : {Row{capped, "adipose.diffusivity", "fat", 2, 0.01},
                           {capped, "adipose.diffusivity", "fat", 0.5, 0.01},
                           {capped, "adipose.water-volume", "fat-water", 1.2, 0.01},
                           {loin, "adipose.diffusivity", "fat", 2, 0.01},
                           {loin, "adipose.diffusivity", "fat", 0.5, 0.01},
                           {joint, "diffusion.fibre-ratio", "fibre-ratio", 1.3, 0.01},
                           {capped, "diffusion.activation-energy", "activation-energy", 1.16,
                            0.005}}) { // the loss stays as it is
        CAPTURE(row.c.piece.shape, row.key, row.factor);
        cure::Case told = row.c, other = row.c;
        told.temperature = other.temperature = 281.15; // 8 C
        base::Records r = built_in();
        other.overrides.push_back(
            {row.key,
             base::significant(r.si(row.key) * row.factor, 12) + " " +
                 (row.key == std::string("adipose.diffusivity")           ? "m2/s"
                  : row.key == std::string("diffusion.activation-energy") ? "J/mol"
                                                                          : ""),
             "a draw"});
        const cure::Setup setup = cure::make_setup(told, r);
        const Inputs inputs = case_inputs(told, setup, built_in());
        REQUIRE(inputs.column(row.input) >= 0);
        Eigen::VectorXd values = inputs
                                     .values(Eigen::MatrixXd::Constant(
                                         1, static_cast<Eigen::Index>(inputs.list().size()), 0.5))
                                     .row(0);
        if (row.input == std::string("fibre-ratio")) // whose range is wider on one side
            values[inputs.column(row.input)] = 1;
        const Drawing drawing(inputs, told, setup, built_in());
        const auto pace_of = [&] {
            const Draw d = drawing(values);
            return d.salt_speed * d.pace;
        };
        const double before = pace_of();
        values[inputs.column(row.input)] *= row.factor;
        const double pace = pace_of() / before;
        const double solved = std::log(day(other) / day(told));
        CHECK(std::abs(solved) > 0.3 * row.margin); // there is something to hold it against
        CHECK(-std::log(pace) == Approx(solved).margin(row.margin));
    }
}

} // namespace test_inputs
