// SPDX-License-Identifier: MIT
/// Looks besides the ring: what the model says they find, how they weigh, and which to take next.
#include "common.hpp"
#include "inference/looks.hpp"

#include "inference/next_look.hpp"
#include "inference/sampling.hpp"
#include "inference/why.hpp"
#include "similar_cases.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

namespace test_looks {

using namespace tidemark;
using namespace tidemark::inference;
using test::day;

namespace {

double of(const Findings& found, Look look) {
    return *found[static_cast<std::size_t>(look)];
}

/// An invented sheet in little brine.
const Inquiry& inquiry() {
    static const Inquiry one(cure::run(cure::in_brine(invented("sheet", 0.065, 1.5)), built_in()),
                             built_in(), 5 * day);
    return one;
}

Slice grey(double core) {
    return {.core_height = core};
}

double probability(const Slice& seen, const std::string& name) {
    const auto& all = inquiry().suspects();
    const auto p = inquiry().probabilities(seen);
    return p[std::ranges::find(all, name, [](const Suspect& s) { return s.text.name; }) -
             all.begin()];
}

} // namespace

TEST_CASE("what looks find is what direct solves with the draw's own numbers hold", "[inference]") {
    cure::Case still = invented("sheet", 0.06, 1.2);
    still.brine.film = 2e-7;
    for (const cure::Case& c : {invented("round", 0.08, 1.5), still}) {
        const cure::Outcome p = cure::run(cure::in_brine(c), built_in());
        const Inputs inputs = case_inputs(c, p.solved->setup(), built_in());
        const Drawing drawing(inputs, c, p.solved->setup(), built_in());
        const SliceModel model(p);
        const Eigen::MatrixXd values =
            inputs.values(uniforms(12, static_cast<Eigen::Index>(inputs.list().size()), 3));
        for (Eigen::Index i = 0; i < values.rows(); ++i) {
            const Draw d = drawing(values.row(i));
            cure::Case own = drawn_case(p, inputs, values.row(i), d);
            own.at = 6 * day;
            const cure::Outcome q = cure::run(cure::in_brine(own), built_in());
            const Findings found = model(d, 6 * day).found;
            // A fortieth of what the looks are off, or less.
            CHECK(of(found, Look::thickness) == Approx(own.piece.dimensions.thickness));
            CHECK(of(found, Look::cooler) == Approx(own.temperature));
            CHECK(of(found, Look::core_salt) == Approx(q.first().core.salt).margin(5e-5));
            CHECK(of(found, Look::mean_salt) ==
                  Approx(q.first().stages.back().end.mean_salt).margin(5e-5));
            CHECK(of(found, Look::brine_salt) ==
                  Approx(q.first().stages.back().bath_end.salt).epsilon(2e-3));
            CHECK(of(found, Look::brine_nitrite) ==
                  Approx(q.first().stages.back().bath_end.nitrite).epsilon(5e-3));
            const double shift = values(i, inputs.column("ph"));
            CHECK(of(found, Look::ph) ==
                  Approx(built_in().find("muscle.pork-loin.ph")->si() + shift));
        }
    }
}

TEST_CASE("a look is normal in its own unit or its ratio, and a slip does not rule it out",
          "[inference]") {
    const LookErrors errors(built_in());
    const double root = std::sqrt(2 * M_PI),
                 kelvin = built_in().find("uncertainty.found-cooler")->si();
    CHECK(errors.log_likelihood(Look::cooler, 277 + kelvin, 277, 0) ==
          Approx(std::log(std::exp(-0.5) / root / kelvin)));
    const double strip = std::log(built_in().find("uncertainty.found-brine-nitrite")->si());
    for (const double found : {100e-6 * std::exp(2 * strip), 100e-6 * std::exp(-2 * strip)}) {
        CHECK(errors.log_likelihood(Look::brine_nitrite, found, 100e-6, 0) ==
              Approx(std::log(std::exp(-2.0) / root / strip)));
    }
    CHECK(errors.log_likelihood(Look::ph, 7.6, 5.6, 0.02) == // ten deviations off
          Approx(std::log(0.1 * 0.02 * std::exp(-0.5) / root / 0.2)));
    CHECK(errors.read(Look::thickness, 0.07, -2) == Approx(0.065));
    CHECK(errors.read(Look::brine_salt, 0.04, 1) == Approx(0.04 * 1.08));
}

TEST_CASE("each look moves the belief to the cause that it shows, and as told moves it away",
          "[inference]") {
    const auto& all = inquiry().suspects();
    const auto median = [&](const std::string& name, Look look) {
        const Suspect& s =
            *std::ranges::find(all, name, [](const Suspect& x) { return x.text.name; });
        std::vector<double> values;
        for (int i = 0; i < 1024; ++i) {
            values.push_back(of(s.shown[i].found, look));
        }
        std::ranges::nth_element(values, values.begin() + 512);
        return values[512];
    };
    for (const Suspect& s : all) {
        if (!s.text.look || s.text.name == "fast-loss") { // core salt: the next test
            continue;
        }
        CAPTURE(s.text.name);
        const Slice bare = grey(0.03);
        Slice found = bare, as_told = bare;
        found.found[static_cast<std::size_t>(*s.text.look)] = median(s.text.name, *s.text.look);
        as_told.found[static_cast<std::size_t>(*s.text.look)] = median("as-told", *s.text.look);
        CHECK(probability(found, s.text.name) > 2 * probability(bare, s.text.name));
        CHECK(probability(as_told, s.text.name) < probability(bare, s.text.name));
    }
}

TEST_CASE("a salty core that is grey points to the nitrite, a bland one to slow meat",
          "[inference]") {
    Slice salty = grey(0.03), bland = grey(0.03);
    const auto k = static_cast<std::size_t>(Look::core_salt);
    salty.found[k] = 0.008;
    bland.found[k] = 0.002;
    for (const char* name : {"fast-loss", "little-premix"}) {
        CAPTURE(name);
        CHECK(probability(salty, name) > 1.2 * probability(bland, name));
    }
    CHECK(probability(salty, "colder") < probability(bland, "colder"));
}

TEST_CASE("the looks left are in order of what they tell, and no look is proposed twice",
          "[inference]") {
    Slice seen = grey(0.03);
    double before = 1;
    const auto next = inquiry().next(seen);
    REQUIRE(next.size() == look_count);
    for (const NextLook& n : next) {
        CHECK(n.after <= before);
        before = n.after;
        CHECK(n.now == next.front().now);
        CHECK(n.after <= 1);
    }
    const std::vector<double> p = inquiry().probabilities(seen);
    CHECK(next.front().now == Approx(std::ranges::max(p)));
    CHECK(next.front().after > next.front().now + 0.02); // some look is worth taking
    seen.found[static_cast<std::size_t>(next.front().look)] =
        of(inquiry().suspects().front().shown.front().found, next.front().look);
    for (const NextLook& n : inquiry().next(seen)) {
        CHECK(n.look != next.front().look);
    }
}

TEST_CASE("what a look is said to tell comes true: the first cause named is right that often",
          "[inference]") {
    // Pieces drawn by their priors, seen by their core alone, then by the look proposed. The share
    // of right names beside the mean of what was said; 300 pieces leave three in a hundred (sd).
    const auto& all = inquiry().suspects();
    const Slice like = [&] {
        Slice s = grey(0);
        s.found = all.front().shown.front().found;
        return s;
    }();
    const Eigen::MatrixXd noise = uniforms(1200, uniforms_of_reading, 5);
    double said = 0, right = 0;
    int pieces = 0;
    for (std::size_t i = 0; i < all.size(); ++i) {
        const int share = static_cast<int>(std::lround(300 * all[i].prior));
        for (int t = 0; t < share; ++t, ++pieces) {
            const Slice read = inference::read(all[i].shown[1024 + t % 64], like,
                                               inquiry().errors(), noise.row(pieces));
            if (read.through) {
                continue;
            }
            Slice seen = read;
            seen.found = {};
            const NextLook best = inquiry().next(seen).front();
            const auto k = static_cast<std::size_t>(best.look);
            seen.found[k] = read.found[k];
            const auto p = inquiry().probabilities(seen);
            right += static_cast<std::size_t>(std::ranges::max_element(p) - p.begin()) == i ? 1 : 0;
            said += best.after;
        }
    }
    REQUIRE(pieces > 250);
    CHECK(right / pieces == Approx(said / pieces).margin(0.08));
}

TEST_CASE("a piece that is looked at does not judge itself", "[inference]") {
    // Two causes with the same pieces, far apart in thickness: a look tells nothing of the cause,
    // but a piece that knew itself would have a voice more. With its own left out, the other has
    // the two.
    std::vector<Suspect> two(2);
    for (Suspect& s : two) {
        for (int k = 0; k < 8; ++k) {
            Slice shown;
            shown.found.fill(0.05 + 0.05 * k);
            s.shown.push_back(shown);
        }
    }
    Findings taken;
    taken.fill(0.1);
    taken[static_cast<std::size_t>(Look::thickness)].reset();
    const std::vector<Eigen::VectorXd> even(2, Eigen::VectorXd::Ones(8));
    const auto same = next_looks(two, even, taken, LookErrors(built_in()), 0.0);
    REQUIRE(same.size() == 1);
    CHECK(same[0].now == Approx(0.5));
    CHECK(same[0].after ==
          Approx(1)); // always the other cause's twin: with its own voice it is a half
}

TEST_CASE("what is seen as a rule is the median of each reading", "[inference]") {
    const Why w = inquiry().explain(grey(0.04));
    for (const Cause& c : w.causes) {
        const Suspect& s = *std::ranges::find(inquiry().suspects(), c.text.name,
                                              [](const Suspect& x) { return x.text.name; });
        int below = 0;
        for (int i = 0; i < 1024; ++i) {
            below += *s.shown[i].core_height < *c.typical.core_height;
        }
        CAPTURE(c.text.name);
        CHECK(below <= 512);
        CHECK(c.typical.through == (*c.typical.core_height == 0));
        // Rings and core make up the piece, as a cook would add them, to a ruler's error or two.
        if (!c.typical.through)
            CHECK(*c.typical.top + *c.typical.bottom + *c.typical.core_height ==
                  Approx(0.065 * (c.text.name == "thicker" ? 1.15
                                  : c.text.name == "fat"   ? 0.88
                                                           : 1))
                      .margin(0.008));
    }
}

} // namespace test_looks
