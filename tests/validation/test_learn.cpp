// SPDX-License-Identifier: MIT
/// Learning from slices, checked by simulation: shops are drawn from the prior, their slices from
/// the model, and what is learnt must be as sure as it says, no more and no less. Shops and pieces
/// are invented. Simulation-based calibration after Talts S, Betancourt M, Simpson D, Vehtari A,
/// Gelman A, Validating Bayesian inference algorithms with simulation-based calibration, 2018,
/// arXiv:1804.06788.
#include "validation/score.hpp"
#include "validation/shops.hpp"

#include <boost/math/distributions/chi_squared.hpp>
#include <catch2/catch.hpp>

#include <array>
#include <cmath>

namespace test_learn {

namespace {

using namespace tidemark;
using namespace tidemark::inference;
using namespace tidemark::validation;

constexpr int shops = 300, ranks = 99, bins = 10, draws = 1024, points = 1024;

/// A kitchen with what a batch of it may show on one day.
struct Bench : Kitchen {
    double time;
    std::shared_ptr<const Trial> trial;

    Bench(double thickness, double days)
        : Kitchen(thickness), time(days * day), trial(Kitchen::trial(days, draws)) {}
};

constexpr std::array lessons{Lesson::nitrite, Lesson::salt, Lesson::loss, Lesson::pieces};
constexpr std::array names{"pace of nitrite", "pace of salt", "loss of nitrite",
                           "spread between pieces"};

double of(const ShopNumbers& shop, Lesson which, const ShopPrior& prior) {
    return std::exp(which == Lesson::nitrite ? shop[salt_speed] + shop[nitrite_ratio]
                    : which == Lesson::salt  ? shop[salt_speed]
                    : which == Lesson::loss  ? shop[loss_rate]
                                             : shop[piece_spread] + std::log(prior.piece_speed));
}

} // namespace

TEST_CASE("what is learnt of a shop is as sure as it says", "[validation]") {
    // A thin piece cut early, which tells of the speed; thick ones left long, which tell of the
    // loss; of two the salt is measured.
    const std::array<Bench, 3> batches{Bench(0.070, 2.5), Bench(0.160, 20), Bench(0.160, 60)};
    const ShopPrior& prior = batches[0].prior;
    World world;
    std::array<std::array<int, bins>, lesson_count> counts{};
    std::array<int, lesson_count> covered{};
    std::array<double, lesson_count> narrowed{};
    int said_conflict = 0;
    for (int k = 0; k < shops; ++k) {
        const ShopNumbers truth = world.shop(prior);
        std::vector<Seen> seen;
        for (const Bench& b : batches) {
            seen.push_back(
                {b.trial, world.slice(b, world.piece(b, truth), b.time, &b != &batches[2])});
        }
        const Learnt l = learn(prior, seen, points);
        said_conflict += !l.conflicts.empty();
        for (const Lesson which : lessons) {
            const auto i = static_cast<std::size_t>(which);
            const double value = of(truth, which, prior);
            int rank = 0;
            for (int draw = 0; draw < ranks; ++draw) {
                rank += l.quantile(which, world.uniform()) < value;
            }
            ++counts[i][static_cast<std::size_t>(rank * bins / (ranks + 1))];
            covered[i] += l.quantile(which, 0.05) <= value && value <= l.quantile(which, 0.95);
            narrowed[i] += l.log_sd(which) / l.log_sd_before(which) / shops;
        }
    }

    std::string score =
        "| what is learnt | chi-square, 9 degrees | p | 90 % intervals that hold the truth "
        "| posterior over prior sd |\n|---|---|---|---|---|\n";
    for (const Lesson which : lessons) {
        const auto i = static_cast<std::size_t>(which);
        double chi = 0;
        for (const int count : counts[i]) {
            chi += std::pow(count - double(shops) / bins, 2) / (double(shops) / bins);
        }
        const double p_value = cdf(complement(boost::math::chi_squared(bins - 1), chi));
        const double coverage = double(covered[i]) / shops;
        CAPTURE(names[i], chi, p_value, coverage);
        // The rule set before the first run: p above 0.01, coverage 87 to 93 %.
        CHECK(p_value > 0.01);
        CHECK(coverage >= 0.87);
        CHECK(coverage <= 0.93);
        score += std::string("| ") + names[i] + " | " + fixed(chi, 1) + " | " + fixed(p_value, 2) +
                 " | " + fixed(100 * coverage, 1) + " % | " + fixed(narrowed[i], 2) + " |\n";
    }
    // A conflict is spoken of when its chance is below one in a hundred over the batches of a shop,
    // or a reading was a slip, which two in a hundred are.
    CHECK(said_conflict <= (0.01 + 0.02 * double(batches.size())) * shops);
    score += "\nOf these shops, " + fixed(100. * said_conflict / shops, 1) +
             " % were told that their slices do not fit together.\n";
    validation::show("learn", score);
}

} // namespace test_learn
