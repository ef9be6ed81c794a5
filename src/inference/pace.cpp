// SPDX-License-Identifier: MIT
#include "inference/pace.hpp"

#include <Eigen/Eigenvalues>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double pi = std::numbers::pi;
constexpr int lean_cells = 24, fat_cells = 8, nodes = 9;
constexpr double reach = 3; ///< of the logarithm of fat's factor, either way [1]

bool shut(const cure::Piece& piece, const char* face) {
    return std::ranges::count(piece.dimensions.sealed, face) > 0;
}

/// One over the square of a length wet at both ends, or of twice one that is shut at one.
double wet(double length, int shut_ends) {
    return length > 0 && shut_ends < 2 ? std::pow((1 + shut_ends) * length, -2) : 0;
}

/// What is missing yet in the middle of a sheet after so many of its Fourier numbers [1].
double missing(double fourier) {
    if (fourier < 0.01)
        return 1;
    double sum = 0;
    for (int n = 0; n < 8; ++n) {
        const double odd = 2 * n + 1;
        sum += (n % 2 ? -1 : 1) / odd * std::exp(-odd * odd * pi * pi * fourier);
    }
    return 4 / pi * sum;
}

/// Lean with fat on it, heights and diffusivities relative to the lean's; water of fat over lean's.
struct Line {
    double fat = 0, diffusivity = 0, water = 0, sides = 0, ends = 0;
    bool bottom_wet = true;

    /// When all lean has come to the level [lean height^2 / its diffusivity].
    double time(double level) const {
        constexpr int n = lean_cells + fat_cells;
        const double h = 1.0 / lean_cells, f = fat / fat_cells;
        VectorXd holds(n), to_next(n + 1); // conductances between neighbours; the first, last: bath
        for (int i = 0; i < n; ++i)
            holds[i] = i < lean_cells ? h : f * water;
        const double of_lean = 1 / h, of_fat = water * diffusivity / f;
        to_next[0] = bottom_wet ? 2 * of_lean : 0;
        for (int i = 1; i < n; ++i)
            to_next[i] = i < lean_cells    ? of_lean
                         : i == lean_cells ? 2 / (1 / of_lean + 1 / of_fat)
                                           : of_fat;
        to_next[n] = 2 * of_fat;
        MatrixXd a = MatrixXd::Zero(n, n);
        for (int i = 0; i < n; ++i) {
            a(i, i) = (to_next[i] + to_next[i + 1]) / holds[i];
            if (i > 0)
                a(i, i - 1) = a(i - 1, i) = -to_next[i] / std::sqrt(holds[i] * holds[i - 1]);
        }
        const Eigen::SelfAdjointEigenSolver<MatrixXd> modes(a);
        const VectorXd root = holds.cwiseSqrt(), start = modes.eigenvectors().transpose() * root;
        double low = std::log(1e-3), high = std::log(1e3);
        for (int step = 0; step < 30; ++step) {
            const double middle = 0.5 * (low + high), t = std::exp(middle);
            const VectorXd left =
                modes.eigenvectors().topRows(lean_cells) *
                start.cwiseProduct((-t * modes.eigenvalues().array()).exp().matrix());
            const double most = (left.array() / root.head(lean_cells).array()).maxCoeff() *
                                missing(sides * t) * missing(ends * t);
            (most > 1 - level ? low : high) = middle;
        }
        return std::exp(0.5 * (low + high));
    }
};

} // namespace

bool Pace::has_fat(const cure::Case& question, const cure::Setup& setup) {
    return question.piece.dimensions.fat_cap > 0 && !shut(question.piece, "top") &&
           setup.tissues.contains("fat");
}

bool Pace::has_fibres(const cure::Case& question, const cure::Setup& setup) {
    const transport::Medium& lean = setup.tissues.at("lean").salt;
    return question.piece.fibre_angle ? lean.ratio != 1
                                      : lean.along != 1 && setup.whole && setup.shut_ends < 2;
}

Pace::Pace(const cure::Case& question, const cure::Setup& setup, double level) {
    const cure::Piece& piece = question.piece;
    const geometry::Dimensions& d = piece.dimensions;
    const cure::Tissue& lean = setup.tissues.at("lean");
    bottom_wet_ = !shut(piece, "bottom");
    top_wet_ = !shut(piece, "top");
    const double height = 2 * setup.half_thickness - d.fat_cap;
    upright_ = wet(height, !bottom_wet_ + !top_wet_);
    if (piece.shape != "sheet") {
        level_ = wet(std::max(d.width, height), shut(piece, "left") + shut(piece, "right"));
    }
    ends_ = setup.whole ? wet(setup.length, setup.shut_ends) : 0;
    angled_ = piece.fibre_angle.has_value();
    angle_ = piece.fibre_angle.value_or(0);
    ratio_ = angled_ ? lean.salt.ratio : lean.salt.along;
    if (!has_fat(question, setup))
        return;
    const transport::Medium& fat = setup.tissues.at("fat").salt;
    const auto day = [&](double diffusivity, double water) {
        const Line line{d.fat_cap / height,
                        diffusivity * fat.diffusivity / lean.salt.diffusivity,
                        water * fat.water / lean.salt.water,
                        level_ * height * height,
                        ends_ * height * height * (angled_ ? 1 : ratio_),
                        bottom_wet_};
        return std::log(line.time(std::clamp(level, 0.01, 0.95)));
    };
    const double now = day(1, 1);
    of_fat_.resize(nodes);
    for (int k = 0; k < nodes; ++k)
        of_fat_[k] = now - day(std::exp(-reach + 2 * reach * k / (nodes - 1)), 1);
    constexpr double more = 1.25;
    of_water_ = (now - day(1, more)) / std::log(more);
}

double Pace::rate(double fibres) const {
    const double more = ratio_ * fibres - 1, // along the fibres
        across = angled_ ? 1 + more * std::pow(std::cos(angle_), 2) : 1,
                 up = angled_ ? 1 + more * std::pow(std::sin(angle_), 2) : 1,
                 along = angled_ ? 1 : 1 + more;
    // The shortest way leads: a core is cured at a small share of the brine, long before the
    // slowest mode alone is left.
    return std::cbrt(std::pow(up * upright_, 3) + std::pow(across * level_, 3) +
                     std::pow(along * ends_, 3));
}

double Pace::operator()(double fat, double water, double fibres) const {
    double log = 0;
    if (of_fat_.size() > 0) {
        const double x =
            (std::clamp(std::log(fat), -reach, reach) + reach) / (2 * reach) * (nodes - 1);
        const Index k = std::min<Index>(nodes - 2, static_cast<Index>(x));
        log = of_fat_[k] + (x - static_cast<double>(k)) * (of_fat_[k + 1] - of_fat_[k]) +
              of_water_ * std::log(water);
    }
    if (fibres != 1 && rate(1) > 0)
        log += std::log(rate(fibres) / rate(1));
    return std::exp(log);
}

} // namespace tidemark::inference
