// SPDX-License-Identifier: MIT
/// Mass: what has come in is free, has reacted, or is still in the bath. Worked out here from the
/// system's own capacities, and compared with the library's figure too.
#include "transport/cases.hpp"
#include "transport/spectrum.hpp"
#include "transport/stepper.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace tidemark;
using namespace tidemark::transport_tests;

namespace {

constexpr double allowed = 1e-10; ///< relative, the project's own requirement

/// Solute in all unknowns plus what reacted, less the start and what a held bath gave, over the
/// largest.
double imbalance(const transport::System& s, const transport::History& history, double t) {
    const auto state = history.at(t);
    const double in = s.capacity.dot(state.free), start = s.capacity.dot(s.initial);
    const double reacted = s.capacity.cwiseProduct(s.loss).dot(state.dose),
                 given = history.influx(t);
    const double largest =
        std::max({std::abs(in), std::abs(reacted), std::abs(start), std::abs(given)});
    // Nothing anywhere, as at the start behind a film, is no imbalance.
    return largest > 0 ? std::abs(in + reacted - start - given) / largest : 0;
}

void check(const transport::System& s, const transport::History& history, double last) {
    for (double share : {0.0, 0.005, 0.03, 0.2, 0.5, 1.0}) {
        CAPTURE(share);
        CHECK(imbalance(s, history, share * last) <= allowed);
        CHECK(transport::mass_balance_error(s, history, share * last) <= allowed);
    }
}

} // namespace

TEST_CASE("mass is kept to 1e-10 by all times of a random problem", "[transport]") {
    const unsigned seed = GENERATE(range(1u, 61u));
    const Case c = random_case(seed);
    CAPTURE(seed, c.what, c.bath.water, c.bath.film, c.bath.loss);
    const auto system = c.assemble();
    check(system, transport::Spectrum(system, c.last / 100, c.last), c.last);
}

TEST_CASE("mass is kept to 1e-10 by the stepper, with coefficients that swing", "[transport]") {
    const unsigned seed = GENERATE(range(101u, 115u));
    const Case c = random_case(seed);
    CAPTURE(seed, c.what, c.bath.water, c.bath.film, c.bath.loss);
    const auto system = c.assemble();
    const double w = 20 / c.last;
    const transport::Clock clock{[w](double t) { return t + 0.2 / w * (1 - std::cos(w * t)); },
                                 [w](double t) { return t + 0.4 / w * (1 - std::cos(w * t)); }};
    check(system, transport::Stepper(system, clock, c.last, 1e-5), c.last);
    check(system, transport::Stepper(system, {}, c.last), c.last);
}

TEST_CASE("the conductances have zero row sums and are symmetric", "[transport]") {
    const unsigned seed = GENERATE(range(1u, 41u));
    const Case c = random_case(seed);
    CAPTURE(seed, c.what);
    const auto k = c.assemble().conductance;
    const double size =
        Eigen::Map<const Eigen::ArrayXd>(k.valuePtr(), k.nonZeros()).abs().maxCoeff();
    // Roundoff of sums of some hundred terms (the bath's row).
    CHECK((k * Eigen::VectorXd::Ones(k.cols())).cwiseAbs().maxCoeff() < 1e-13 * size);
    CHECK(Eigen::SparseMatrix<double>(k - Eigen::SparseMatrix<double>(k.transpose())).norm() <
          1e-13 * size);
}

TEST_CASE("the water of the cells is that of the regions and of the bath", "[transport]") {
    const unsigned seed = GENERATE(range(1u, 41u));
    const Case c = random_case(seed);
    CAPTURE(seed, c.what, c.bath.water);
    const auto s = c.assemble();
    double water = 0;
    for (const auto& w : s.region_water)
        water += w.sum();
    if (!s.held)
        water += c.bath.water / c.bath.partition;
    CHECK(s.capacity.sum() == Approx(water).epsilon(1e-12)); // roundoff
    // And the solute at the start is that of the media and the bath, nothing added at the wall.
    double solute = s.held ? 0 : c.bath.water * c.bath.concentration;
    for (std::size_t r = 0; r < c.media.size(); ++r)
        solute += c.media[r].initial * s.region_water[r].sum();
    if (!s.held)
        CHECK(s.capacity.dot(s.initial) == Approx(solute).epsilon(1e-12));
}
