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

namespace test_learn {

using namespace tidemark;
using namespace tidemark::inference;

namespace {

/// One case with the model of its slices.
struct Bench {
    cure::Outcome prediction;
    Inputs inputs;
    Drawing drawing;
    SliceModel model;
    ShopPrior prior;

    explicit Bench(double thickness)
        : prediction(cure::run(cure::in_brine(invented("round", thickness)), built_in())),
          inputs(case_inputs(prediction.question.base, prediction.solved->setup(), built_in())),
          drawing(inputs, prediction.question.base, prediction.solved->setup(), built_in()),
          model(prediction), prior(shop_prior(inputs, built_in())) {}

    std::shared_ptr<const Trial> trial(double days) const {
        return std::make_shared<const Trial>(model, inputs, drawing, prior, built_in(),
                                             days * 86400);
    }
    /// A batch whose ring is that of a piece with this speed, all else in the middle.
    Seen seen(const std::shared_ptr<const Trial>& t, double days, double speed) const {
        Draw draw;
        draw.salt_speed = draw.nitrite_speed = speed;
        Slice slice = model(draw, days * 86400);
        REQUIRE_FALSE(slice.through);
        slice.every = slice.top;
        slice.found = {};
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

bool told(const Learnt& l, Lesson which) {
    return l.told[static_cast<std::size_t>(which)];
}

const std::string& reason(const Learnt& l, Lesson which) {
    return l.reason[static_cast<std::size_t>(which)];
}

double middle(const Learnt& l) { // of nitrite's pace, its logarithm
    return std::log(l.quantile(Lesson::nitrite, 0.5));
}

} // namespace

TEST_CASE("what shops and pieces are spread by make up the record's spread", "[inference]") {
    // 1.16 and 1.28 between pieces (models/uncertainty.ini), the rest the shop's.
    const ShopPrior& p = thin().prior;
    const double speed = thin().inputs.list()[thin().inputs.column("diffusivity")].spread.b;
    CHECK(p.piece_speed == Approx(std::log(1.16)).epsilon(1e-12));
    CHECK(p.piece_loss == Approx(std::log(1.28)).epsilon(1e-12));
    CHECK(p.covariance(salt_speed, salt_speed) + std::pow(p.piece_speed, 2) ==
          Approx(std::pow(std::log(speed), 2)).epsilon(1e-12));
    // What all meat shares goes together as posterior.correlation has it.
    const double ratio = built_in().find("posterior.ratio.sd")->value;
    CHECK(p.covariance(nitrite_ratio, nitrite_ratio) == Approx(ratio * ratio).epsilon(1e-9));
    CHECK(p.covariance(nitrite_ratio, loss_rate) != 0);
    Inputs none;
    CHECK_THROWS_AS(shop_prior(none, built_in()), base::RunError);
}

TEST_CASE("without a slice the shop is the prior, and the next batch that of the records",
          "[inference]") {
    const Learnt l = learn(thin().prior, {});
    CHECK(l.log_mean.cwiseAbs().maxCoeff() < 0.005); // 2048 even points
    for (const Lesson which : {Lesson::nitrite, Lesson::salt, Lesson::loss, Lesson::pieces}) {
        CHECK(l.log_sd(which) / l.log_sd_before(which) == Approx(1).epsilon(0.02));
        CHECK_FALSE(told(l, which));
    }
    // The 95 % point of a normal, 1.644854.
    CHECK(std::log(l.quantile(Lesson::loss, 0.95)) / l.log_sd_before(Lesson::loss) ==
          Approx(1.644854).margin(0.02));
    const Inputs next = learnt_inputs(thin().inputs, l);
    for (const char* name : {"diffusivity", "nitrite-ratio", "loss", "eye"}) {
        CAPTURE(name);
        const auto& now = next.list()[next.column(name)].spread;
        const auto& was = thin().inputs.list()[thin().inputs.column(name)].spread;
        CHECK(std::log(now.a) == Approx(0).margin(0.005));
        // How far its pieces differ is not known either, which makes the mean of the squares
        // larger.
        const double more = std::exp(2 * l.prior.covariance(piece_spread, piece_spread)) - 1,
                     pieces = name == std::string("diffusivity")
                                  ? more * std::pow(l.prior.piece_speed, 2)
                                  : 0;
        CHECK(std::log(now.b) ==
              Approx(std::sqrt(std::pow(std::log(was.b), 2) + pieces)).epsilon(0.02));
    }
}

TEST_CASE("where only the speed is unknown, the posterior is the normal one", "[inference]") {
    // With little else spread, a sharp ruler reads log D of the piece. Where the variance within a
    // shop is k times that between, n pieces leave the shop k/(n+k) of its own, with the mean of
    // the readings drawn to 0 by n/(n+k).
    const Bench& b = thin();
    Inputs only;
    only.add({"diffusivity", "diffusivity", {Distribution::Kind::lognormal, 1, 1.5}});
    only.add({"loss", "loss", {Distribution::Kind::lognormal, 1, 1.001}});
    ShopPrior prior = shop_prior(only, built_in());
    prior.covariance(piece_spread, piece_spread) = 1e-8; // how far its pieces differ is known
    const Drawing drawing(only, b.prediction.question.base, b.prediction.solved->setup(),
                          built_in());
    const auto trial = std::make_shared<const Trial>(b.model, only, drawing, prior, built_in(),
                                                     2.5 * 86400, 16384);
    std::vector<Seen> seen;
    double sum = 0;
    for (const double speed : {0.7, 0.9, 1.2}) {
        seen.push_back(b.seen(trial, 2.5, speed));
        seen.back().slice.error = 2e-4; // a sharp ruler, no slips
        seen.back().slice.slips = 0;
        sum += std::log(speed);
        const Learnt l = learn(prior, seen);
        const double n = static_cast<double>(seen.size());
        CAPTURE(n);
        // 0.2 mm of 15 are 3 % of D, and 16384 draws hold some hundred of those.
        const double shop = std::sqrt(prior.covariance(salt_speed, salt_speed)),
                     k = std::pow(prior.piece_speed / shop, 2);
        CHECK(l.cloud.mean()[salt_speed] == Approx(sum / (n + k)).margin(0.01));
        CHECK(l.log_sd(Lesson::nitrite) / shop == Approx(std::sqrt(k / (n + k))).epsilon(0.04));
    }
}

TEST_CASE("slices like the middle's keep the middle and narrow the speed; deep ones raise it",
          "[inference]") {
    const Bench& b = thin();
    const auto trial = b.trial(2.5);
    std::array<double, 3> mean{};
    int k = 0;
    for (const double speed : {0.6, 1.0, 1.4}) {
        const Learnt one = learn(b.prior, {b.seen(trial, 2.5, speed)});
        const Learnt three = learn(b.prior, std::vector<Seen>(3, b.seen(trial, 2.5, speed)));
        CHECK(one.log_sd(Lesson::nitrite) < one.log_sd_before(Lesson::nitrite));
        CHECK(three.log_sd(Lesson::nitrite) < one.log_sd(Lesson::nitrite));
        CHECK(three.told[static_cast<std::size_t>(Lesson::nitrite)]);
        CHECK(three.conflicts.empty());
        mean[k++] = middle(three);
    }
    CHECK(mean[0] < -0.05);
    CHECK(std::abs(mean[1]) < 0.1);
    CHECK(mean[2] > 0.05);
}

TEST_CASE("the order of the batches does not matter", "[inference]") {
    const Bench& b = thin();
    const auto four = b.trial(2), five = b.trial(3);
    const Seen x = b.seen(four, 2, 0.7), y = b.seen(five, 3, 1.2);
    const Learnt one = learn(b.prior, {x, y}), other = learn(b.prior, {y, x});
    CHECK((one.log_mean - other.log_mean).norm() < 1e-6);
    CHECK((one.log_covariance - other.log_covariance).norm() < 1e-6);
}

TEST_CASE("equal slices of one trial weigh as many different ones would", "[inference]") {
    // Two trials of the same day are two objects with the same draws: not equal, but alike.
    const Bench& b = thin();
    const auto one = b.trial(2.5), alike = b.trial(2.5);
    const Seen x = b.seen(one, 2.5, 0.7), y{alike, x.slice};
    const Learnt grouped = learn(b.prior, {x, x, x}), apart = learn(b.prior, {x, y, x});
    CHECK((grouped.log_mean - apart.log_mean).norm() < 1e-5);
    CHECK((grouped.log_covariance - apart.log_covariance).norm() < 1e-5);
    REQUIRE(grouped.surprises.size() == 3);
    CHECK(grouped.surprises[2] == Approx(apart.surprises[1]).epsilon(1e-4));
}

TEST_CASE("a thin piece cut early says nothing about loss, and says so", "[inference]") {
    const Bench& b = thin();
    const Learnt l = learn(b.prior, {b.seen(b.trial(3), 3, 1)});
    CHECK_FALSE(told(l, Lesson::loss));
    CHECK(reason(l, Lesson::loss) == "not told yet: a slice "
                                     "of a thick piece left long would tell");
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
    const Learnt l = learn(thick.prior, seen);
    CHECK(told(l, Lesson::loss));
    CHECK(reason(l, Lesson::loss).empty());
    CHECK(l.log_mean[loss_rate] > 0);
}

TEST_CASE("slices that are all pink through give a bound only", "[inference]") {
    const Bench& b = thin();
    const auto trial = b.trial(6);
    const Learnt l = learn(b.prior, std::vector<Seen>(4, {trial, through()}));
    CHECK(l.bound);
    CHECK(middle(l) > 0);
    // And none that is through long after every such piece would be says anything.
    const Learnt late = learn(b.prior, {{b.trial(100), through()}});
    CHECK_FALSE(told(late, Lesson::nitrite));
    CHECK(late.log_sd(Lesson::nitrite) / late.log_sd_before(Lesson::nitrite) > 0.9);
}

// The rule of complementary events: for every shop the two chances are one together.
TEST_CASE("a slice shows grey or it shows none", "[inference]") {
    const Bench& b = thin();
    const std::vector<Slice> either{with_errors(through(), built_in()),
                                    with_errors(Slice{}, built_in())}; // grey, its place not told
    Shops shops = Shops::Zero(3, commons);
    shops(0, salt_speed) = -0.5;
    shops(2, salt_speed) = 0.5;
    for (const double days : {4., 6.}) {
        const Eigen::MatrixXd chance =
            b.trial(days)->log_likelihood(either, shops).array().exp().matrix();
        CAPTURE(days, chance);
        CHECK(chance(0, 0) < 0.9 * chance(2, 0)); // a slow shop shows none less often
        for (Eigen::Index shop = 0; shop < shops.rows(); ++shop) {
            CHECK(chance.row(shop).sum() == Approx(1).margin(1e-4)); // sums of 4096 floats
        }
    }
}

TEST_CASE("batches that cannot be of one shop are named", "[inference]") {
    const Bench& b = thin();
    const auto trial = b.trial(3);
    std::vector<Seen> seen(4, b.seen(trial, 3, 1));
    CHECK(learn(b.prior, seen).conflicts.empty());
    Slice skin;
    skin.every = 0.001;
    seen.push_back({trial, skin});
    const Learnt l = learn(b.prior, seen);
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
    const Learnt l = learn(b.prior, std::vector<Seen>(3, {trial, grey}));
    const Ranges before = ranges(b.prediction, built_in()),
                 after = ranges(b.prediction, built_in(), learnt_inputs(b.inputs, l));
    CAPTURE(before.pull.early, before.pull.half, before.pull.late, after.pull.early,
            after.pull.half);
    CHECK(after.pull.half > 1.1 * before.pull.half);
    CHECK(after.pull.half / after.pull.early < before.pull.half / before.pull.early);
}

TEST_CASE("a ring moves the days of colour and leaves the salt's alone, until salt is measured",
          "[inference]") {
    const Bench& b = thin();
    const auto trial = b.trial(2.5);
    std::vector<Seen> seen(4, b.seen(trial, 2.5, 0.7));
    const Learnt l = learn(b.prior, seen);
    const auto spread = [&](const Inputs& inputs, const char* name) {
        return inputs.list()[inputs.column(name)].spread;
    };
    const Inputs next = learnt_inputs(b.inputs, l);
    CHECK(spread(next, "diffusivity").a == Approx(1).epsilon(1e-9));
    CHECK(std::log(spread(next, "diffusivity").b) ==
          Approx(std::log(spread(b.inputs, "diffusivity").b)).epsilon(0.02)); // own pieces' spread
    CHECK(spread(next, "nitrite-ratio").a < 0.95);
    const Ranges before = ranges(b.prediction, built_in()),
                 after = ranges(b.prediction, built_in(), next);
    CHECK(after.pull.half > 1.05 * before.pull.half);
    CHECK(after.salted.half == Approx(before.salted.half).epsilon(0.01));
    CHECK(after.salted.late == Approx(before.salted.late).epsilon(0.03));
    CHECK_FALSE(told(l, Lesson::salt));

    // The core of a slow piece, salt measured well: now salt's pace is taught, and by that alone.
    Draw slow;
    slow.salt_speed = slow.nitrite_speed = 0.7;
    const auto later = b.trial(5); // by then the core holds more than a meter errs by
    const Slice shown = b.model(slow, 5 * 86400);
    seen = std::vector<Seen>(4, b.seen(later, 5, 0.7));
    for (Seen& s : seen) {
        s.slice.found[static_cast<std::size_t>(Look::core_salt)] =
            shown.found[static_cast<std::size_t>(Look::core_salt)];
    }
    const Learnt salt = learn(b.prior, seen);
    CHECK(told(salt, Lesson::salt));
    CHECK(salt.quantile(Lesson::salt, 0.5) < 0.9);
    CHECK(salt.log_mean[salt_speed] < -0.1);
    CHECK(ranges(b.prediction, built_in(), learnt_inputs(b.inputs, salt)).salted.half >
          1.05 * before.salted.half);

    // So it is by the mean of the slice, whose meter errs by less.
    for (Seen& s : seen) {
        s.slice.found = {};
        s.slice.found[static_cast<std::size_t>(Look::mean_salt)] =
            shown.found[static_cast<std::size_t>(Look::mean_salt)];
    }
    const Learnt mean = learn(b.prior, seen);
    CHECK(told(mean, Lesson::salt));
    CHECK(mean.quantile(Lesson::salt, 0.5) < 0.9);
    CHECK(mean.log_sd(Lesson::salt) < salt.log_sd(Lesson::salt));
    CHECK(ranges(b.prediction, built_in(), learnt_inputs(b.inputs, mean)).salted.half >
          1.05 * before.salted.half);
}

TEST_CASE("a shop learns how far its own pieces differ", "[inference]") {
    const Bench& b = thin();
    const auto trial = b.trial(2.5);
    std::vector<Seen> alike, apart;
    for (int k = 0; k < 12; ++k) {
        alike.push_back(b.seen(trial, 2.5, 1));
        apart.push_back(b.seen(trial, 2.5, k % 2 ? 0.5 : 1.7));
        alike.back().slice.error = apart.back().slice.error = 1e-3;
    }
    const Learnt even = learn(b.prior, alike), uneven = learn(b.prior, apart);
    CHECK(even.quantile(Lesson::pieces, 0.5) < 0.95 * b.prior.piece_speed);
    CHECK(uneven.quantile(Lesson::pieces, 0.5) > 1.2 * b.prior.piece_speed);
    // A shop known to its middle leaves the pieces' own spread.
    const auto late_over_early = [&](const Learnt& l, Whose whose) {
        const DayRange r = ranges(b.prediction, built_in(), learnt_inputs(b.inputs, l, whose)).pull;
        return r.late / r.early;
    };
    CHECK(late_over_early(even, Whose::pieces_of_shop) < late_over_early(even, Whose::next_piece));
    CHECK(late_over_early(even, Whose::pieces_of_shop) <
          late_over_early(uneven, Whose::pieces_of_shop));
}

} // namespace test_learn
