// SPDX-License-Identifier: MIT
/// Learning from slices, checked by simulation: shops are drawn from the prior, their slices from
/// the model, and what is learnt must be as sure as it says, no more and no less. Shops and pieces
/// are invented. Simulation-based calibration after Talts S, Betancourt M, Simpson D, Vehtari A,
/// Gelman A, Validating Bayesian inference algorithms with simulation-based calibration, 2018,
/// arXiv:1804.06788.
#include "cure/two_meshes.hpp"
#include "inference/learn.hpp"
#include "inference/sampling.hpp"
#include "validation/score.hpp"

#include <boost/math/distributions/chi_squared.hpp>
#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <random>

namespace {

using namespace tidemark;
using namespace tidemark::inference;
using validation::fixed;

constexpr double day = 86400;
constexpr int shops = 500, ranks = 99, bins = 10;

cure::Case round(double thickness) {
    cure::Case c;
    c.piece.shape = "round";
    c.piece.dimensions.thickness = thickness;
    c.brine.salt = 0.05;
    c.brine.nitrite = 200e-6;
    return c;
}

/// A case with the model of its slices, and what a batch of it may show on one day.
struct Bench {
    base::Records records = base::Records::built_in();
    cure::Outcome prediction;
    Inputs inputs;
    Drawing drawing;
    SliceModel model;
    Split parts;
    double time;
    std::shared_ptr<const Trial> trial;

    Bench(double thickness, double days)
        : prediction(cure::run(cure::in_brine(round(thickness)), records)),
          inputs(case_inputs(prediction.question.base, prediction.solved->setup(), records)),
          drawing(inputs, prediction.question.base, prediction.solved->setup(), records),
          model(prediction), parts(split(inputs, records)), time(days * day),
          trial(std::make_shared<const Trial>(model, inputs, drawing, parts, time)) {}
};

/// Dice apart from those of the inference.
class World {
public:
    double uniform() { return std::generate_canonical<double, 53>(random_); }
    Eigen::Vector2d normals() { return {normal_score(uniform()), normal_score(uniform())}; }

    Slice slice(const Bench& b, const Eigen::Vector2d& shop) {
        const auto columns = static_cast<Eigen::Index>(b.inputs.list().size());
        const Eigen::MatrixXd dice =
            Eigen::MatrixXd::NullaryExpr(1, columns, [&] { return uniform(); });
        Eigen::VectorXd values = b.inputs.values(dice).row(0);
        const Eigen::Vector2d piece = shop + b.parts.piece.cwiseProduct(normals());
        values[b.inputs.column("diffusivity")] = std::exp(piece[0]);
        values[b.inputs.column("loss")] = std::exp(piece[1]);
        const Slice shown = b.model(b.drawing(values), b.time);
        Slice seen, through;
        through.through = true;
        seen.time = through.time = b.time;
        if (uniform() < std::exp(log_likelihood(through, shown))) {
            return through;
        }
        const double error = seen.error * (uniform() < seen.slips ? 10 : 1);
        seen.every = *shown.top + error * normal_score(uniform());
        return seen;
    }

private:
    std::mt19937_64 random_{1};
};

} // namespace

TEST_CASE("what is learnt of a shop is as sure as it says", "[validation]") {
    // A thin piece cut early, which tells of the speed; thick ones left long, which tell of the
    // loss.
    const std::array<Bench, 3> batches{Bench(0.070, 2.5), Bench(0.160, 20), Bench(0.160, 60)};
    const Split& parts = batches[0].parts;
    World world;
    std::array<std::array<int, bins>, 2> counts{};
    std::array<int, 2> covered{};
    std::array<double, 2> narrowed{};
    int said_conflict = 0;
    for (int k = 0; k < shops; ++k) {
        const Eigen::Vector2d truth = parts.shop.cwiseProduct(world.normals());
        std::vector<Seen> seen;
        for (const Bench& b : batches) {
            seen.push_back({b.trial, world.slice(b, truth)});
        }
        const Learnt l = learn(parts, seen);
        said_conflict += !l.conflicts.empty();
        for (const Multiplier which : {speed_of_diffusion, speed_of_loss}) {
            const double value = std::exp(truth[which]);
            int rank = 0;
            for (int draw = 0; draw < ranks; ++draw) {
                rank += l.quantile(which, world.uniform()) < value;
            }
            ++counts[which][rank * bins / (ranks + 1)];
            covered[which] += l.quantile(which, 0.05) <= value && value <= l.quantile(which, 0.95);
            narrowed[which] +=
                std::sqrt(l.log_covariance(which, which)) / parts.shop[which] / shops;
        }
    }

    std::string score =
        "| multiplier | chi-square, 9 degrees | p | 90 % intervals that hold the truth "
        "| posterior over prior sd |\n|---|---|---|---|---|\n";
    for (const Multiplier which : {speed_of_diffusion, speed_of_loss}) {
        double chi = 0;
        for (const int count : counts[which]) {
            chi += std::pow(count - double(shops) / bins, 2) / (double(shops) / bins);
        }
        const double p_value = cdf(complement(boost::math::chi_squared(bins - 1), chi));
        const double coverage = double(covered[which]) / shops;
        CAPTURE(which, chi);
        // The rule set before the first run: p above 0.01, coverage 87 to 93 %.
        CHECK(p_value > 0.01);
        CHECK(coverage >= 0.87);
        CHECK(coverage <= 0.93);
        score += std::string("| ") + (which == 0 ? "speed of diffusion" : "loss of nitrite") +
                 " | " + fixed(chi, 1) + " | " + fixed(p_value, 2) + " | " +
                 fixed(100 * coverage, 1) + " % | " + fixed(narrowed[which], 2) + " |\n";
    }
    // A conflict is spoken of when its chance is below one in a hundred over the batches of a shop,
    // or a reading was a slip, which two in a hundred are.
    CHECK(said_conflict <= (0.01 + 0.02 * double(batches.size())) * shops);
    score += "\nOf these shops, " + fixed(100. * said_conflict / shops, 1) +
             " % were told that their slices do not fit together.\n";
    validation::show("learn", score);
}
