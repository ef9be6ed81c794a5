// SPDX-License-Identifier: MIT
/// Learning against closed forms and limits; whether it is as sure as it says stands in
/// tests/validation/test_learn.cpp. Pieces and slices are invented.
#include "inference/learn.hpp"

#include "base/error.hpp"
#include "cure/two_meshes.hpp"
#include "inference/ranges.hpp"
#include "similar_cases.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace tidemark;
using namespace tidemark::inference;

namespace {

/// One case with the model of its slices.
struct Bench {
    cure::Outcome prediction;
    Inputs inputs;
    Drawing drawing;
    SliceModel model;
    Split parts;

    explicit Bench(double thickness)
        : prediction(cure::run(cure::in_brine(invented("round", thickness)), records())),
          inputs(case_inputs(prediction.question.base, prediction.solved->setup(), records())),
          drawing(inputs, prediction.question.base, prediction.solved->setup(), records()),
          model(prediction), parts(split(inputs, records())) {}

    std::shared_ptr<const Trial> trial(double days) const {
        return std::make_shared<const Trial>(model, inputs, drawing, parts, days * 86400);
    }
    /// A batch whose ring is that of a piece with this speed, all else in the middle.
    Seen seen(const std::shared_ptr<const Trial>& t, double days, double speed) const {
        Draw draw;
        draw.salt_speed = draw.nitrite_speed = speed;
        Slice slice = model(draw, days * 86400);
        REQUIRE_FALSE(slice.through);
        slice.every = slice.top;
        for (auto* reading : {&slice.top, &slice.bottom, &slice.left, &slice.right,
                              &slice.core_height, &slice.core_width}) {
            reading->reset();
        }
        return {t, slice};
    }
};

const Bench& thin() {
    static const Bench bench(0.07);
    return bench;
}

Slice through() {
    Slice s;
    s.through = true;
    return s;
}

double sd(const Learnt& l, Multiplier which) {
    return std::sqrt(l.log_covariance(which, which));
}

} // namespace

TEST_CASE("the split gives back the record's spread", "[inference]") {
    // 1.16 and 1.28 between pieces (models/uncertainty.ini), the rest the shop's.
    const Split& s = thin().parts;
    const double speed = thin().inputs.list()[thin().inputs.column("diffusivity")].spread.b;
    CHECK(s.shop.cwiseAbs2().x() + s.piece.cwiseAbs2().x() ==
          Approx(std::pow(std::log(speed), 2)).epsilon(1e-12));
    CHECK(s.piece.x() == Approx(std::log(1.16)).epsilon(1e-12));
    CHECK(s.piece.y() == Approx(std::log(1.28)).epsilon(1e-12));
    Inputs none;
    CHECK_THROWS_AS(split(none, records()), base::RunError);
}

TEST_CASE("without a slice the shop is the prior, and the next batch that of the records",
          "[inference]") {
    const Learnt l = learn(thin().parts, {});
    CHECK(l.log_mean.norm() < 1e-12);
    // A normal cut off at 4.5 standard deviations lacks 1e-4 of its variance.
    CHECK(sd(l, speed_of_diffusion) / l.prior.shop.x() == Approx(1).epsilon(2e-4));
    CHECK(l.quantile(speed_of_loss, 0.5) == Approx(1).epsilon(1e-9));
    // The 95 % point of a normal, 1.644854, by cells of 0.19.
    CHECK(std::log(l.quantile(speed_of_loss, 0.95)) / l.prior.shop.y() ==
          Approx(1.644854).margin(0.01));
    CHECK_FALSE(l.told[speed_of_diffusion]);
    const Inputs next = learnt_inputs(thin().inputs, l);
    const auto& spread = next.list()[next.column("diffusivity")].spread;
    CHECK(spread.a == Approx(1).epsilon(1e-9));
    CHECK(spread.b ==
          Approx(thin().inputs.list()[thin().inputs.column("diffusivity")].spread.b).epsilon(1e-3));
}

TEST_CASE("where only the speed is unknown, the posterior is the normal one", "[inference]") {
    // With little else spread, a sharp ruler reads log D of the piece. Where the variance within a
    // shop is k times that between, n pieces leave the shop k/(n+k) of its own, with the mean of
    // the readings drawn to 0 by n/(n+k).
    const Bench& b = thin();
    Inputs only;
    only.add({"diffusivity", "diffusivity", {Distribution::Kind::lognormal, 1, 1.5}});
    only.add({"loss", "loss", {Distribution::Kind::lognormal, 1, 1.001}});
    const Split parts = split(only, records());
    const Drawing drawing(only, b.prediction.question.base, b.prediction.solved->setup(),
                          records());
    const auto trial =
        std::make_shared<const Trial>(b.model, only, drawing, parts, 2.5 * 86400, 16384);
    std::vector<Seen> seen;
    double sum = 0;
    for (const double speed : {0.7, 0.9, 1.2}) {
        seen.push_back(b.seen(trial, 2.5, speed));
        seen.back().slice.error = 2e-4; // a sharp ruler, no slips
        seen.back().slice.slips = 0;
        sum += std::log(speed);
        const Learnt l = learn(parts, seen);
        const double n = static_cast<double>(seen.size());
        CAPTURE(n);
        // 0.2 mm of 15 are 3 % of D, and 16384 draws hold some hundred of those.
        const double k = std::pow(parts.piece.x() / parts.shop.x(), 2);
        CHECK(l.log_mean.x() == Approx(sum / (n + k)).margin(0.01));
        CHECK(sd(l, speed_of_diffusion) / parts.shop.x() ==
              Approx(std::sqrt(k / (n + k))).epsilon(0.02));
    }
}

TEST_CASE("slices like the middle's keep the middle and narrow the speed; deep ones raise it",
          "[inference]") {
    const Bench& b = thin();
    const auto trial = b.trial(2.5);
    std::array<double, 3> mean{};
    int k = 0;
    for (const double speed : {0.6, 1.0, 1.4}) {
        const Learnt one = learn(b.parts, {b.seen(trial, 2.5, speed)});
        const Learnt three = learn(b.parts, std::vector<Seen>(3, b.seen(trial, 2.5, speed)));
        CHECK(sd(one, speed_of_diffusion) < b.parts.shop.x());
        CHECK(sd(three, speed_of_diffusion) < sd(one, speed_of_diffusion));
        CHECK(three.told[speed_of_diffusion]);
        CHECK(three.conflicts.empty());
        mean[k++] = three.log_mean.x();
    }
    CHECK(mean[0] < 0.9 * mean[1]);
    CHECK(mean[0] < -0.05);
    CHECK(std::abs(mean[1]) < 0.1);
    CHECK(mean[2] > 0.05);
}

TEST_CASE("the order of the batches does not matter", "[inference]") {
    const Bench& b = thin();
    const auto four = b.trial(2), five = b.trial(3);
    const Seen x = b.seen(four, 2, 0.7), y = b.seen(five, 3, 1.2);
    const Learnt one = learn(b.parts, {x, y}), other = learn(b.parts, {y, x});
    CHECK((one.log_mean - other.log_mean).norm() < 1e-12);
    CHECK((one.log_covariance - other.log_covariance).norm() < 1e-12);
}

TEST_CASE("equal slices of one trial weigh as many different ones would", "[inference]") {
    // Two trials of the same day are two objects with the same draws: not equal, but alike.
    const Bench& b = thin();
    const auto one = b.trial(2.5), alike = b.trial(2.5);
    const Seen x = b.seen(one, 2.5, 0.7), y{alike, x.slice};
    const Learnt grouped = learn(b.parts, {x, x, x}), apart = learn(b.parts, {x, y, x});
    CHECK((grouped.log_mean - apart.log_mean).norm() < 1e-12);
    CHECK((grouped.log_covariance - apart.log_covariance).norm() < 1e-12);
    REQUIRE(grouped.surprises.size() == 3);
    CHECK(grouped.surprises[2] == Approx(apart.surprises[1]).epsilon(1e-9));
}

TEST_CASE("a thin piece cut early says nothing about loss, and says so", "[inference]") {
    const Bench& b = thin();
    const Learnt l = learn(b.parts, {b.seen(b.trial(3), 3, 1)});
    CHECK_FALSE(l.told[speed_of_loss]);
    CHECK(l.reason[speed_of_loss] ==
          "the slices so far say nothing about the loss of nitrite: a slice "
          "of a thick piece left long would");
}

TEST_CASE("thick pieces left long do say something about loss", "[inference]") {
    static const Bench thick(0.17);
    const auto trial = thick.trial(60), early = thick.trial(6);
    std::vector<Seen> seen;
    for (int k = 0; k < 4; ++k) { // the early ones pin the speed down
        seen.push_back(thick.seen(early, 6, 1));
        Draw slow;
        slow.loss = 3;
        Slice s = thick.model(slow, 60 * 86400.);
        REQUIRE_FALSE(s.through);
        Slice ring;
        ring.every = s.top;
        seen.push_back({trial, ring});
    }
    const Learnt l = learn(thick.parts, seen);
    CHECK(l.told[speed_of_loss]);
    CHECK(l.reason[speed_of_loss].empty());
    CHECK(l.log_mean[speed_of_loss] > 0);
}

TEST_CASE("slices that are all pink through give a bound only", "[inference]") {
    const Bench& b = thin();
    const auto trial = b.trial(6);
    const Learnt l = learn(b.parts, std::vector<Seen>(4, {trial, through()}));
    CHECK(l.bound);
    CHECK(l.log_mean.x() > 0);
    // And none that is through long after every such piece would be says anything.
    const Learnt late = learn(b.parts, {{b.trial(100), through()}});
    CHECK_FALSE(late.told[speed_of_diffusion]);
    CHECK(sd(late, speed_of_diffusion) / b.parts.shop.x() > 0.9);
}

TEST_CASE("batches that cannot be of one shop are named", "[inference]") {
    const Bench& b = thin();
    const auto trial = b.trial(3);
    std::vector<Seen> seen(4, b.seen(trial, 3, 1));
    CHECK(learn(b.parts, seen).conflicts.empty());
    Slice skin;
    skin.every = 0.001;
    seen.push_back({trial, skin});
    const Learnt l = learn(b.parts, seen);
    REQUIRE(l.conflicts.size() == 1);
    CHECK(l.conflicts[0].starts_with("batch 5 does not fit the others"));
    CHECK(l.surprises[4] < 0.002);
    CHECK(l.surprises[0] > 0.1);
}

TEST_CASE("three grey cores move the next day later and bring its ends together", "[inference]") {
    const Bench& b = thin();
    const auto trial = b.trial(6);
    Slice grey;
    grey.core_height = 0.030;
    const Learnt l = learn(b.parts, std::vector<Seen>(3, {trial, grey}));
    const Ranges before = ranges(b.prediction, records()),
                 after = ranges(b.prediction, records(), learnt_inputs(b.inputs, l));
    CAPTURE(before.pull.early, before.pull.half, before.pull.late, after.pull.early,
            after.pull.half);
    CHECK(after.pull.half > 1.1 * before.pull.half);
    CHECK(after.pull.half / after.pull.early < before.pull.half / before.pull.early);
}
