// SPDX-License-Identifier: MIT
/// The whole problem against a general ODE library: a bone-in loin with a fat cap, fibres, loss and
/// a bath (an invented scenario), on the same cells, so what differs is only how time is treated.
/// Asked of the library: 1e-10. Allowed: 1e-6 of the brine's strength, ten times what the
/// solvers ask of themselves.
#include "common.hpp"
#include "geometry/shapes.hpp"
#include "transport/spectrum.hpp"
#include "transport/stepper.hpp"
#include "verification/cvode.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

namespace test_reference {

using namespace tidemark;
using namespace tidemark::verification;
using test::day;

namespace {

constexpr double allowed = 1e-6;
const std::vector<double> times = {1 * day, 4 * day, 15 * day, 60 * day};

struct Loin {
    bool film = false, held = false;
    double fat_loss = 1e-6; ///< [1/s]; the lean's is 1e-6, the bath's 3e-7
};

transport::System assemble(const Loin& loin) {
    geometry::Dimensions d;
    d.thickness = 0.080;
    d.width = 0.128;
    d.fat_cap = 0.006;
    d.bones = 3;
    const auto mesh = geometry::triangulate(geometry::loin(d, "loin"), d.thickness / 24);
    std::vector<transport::Medium> media;
    for (const auto& kind : mesh.kinds)
        media.push_back(kind == "fat" ? transport::Medium{100, 1e-10, 1, 0, loin.fat_loss}
                                      : transport::Medium{780, 2.4e-10, 1.3, 0.4, 1e-6});
    transport::Bath bath;
    bath.concentration = 1;
    bath.partition = 0.95;
    bath.loss = 3e-7;
    if (!loin.held)
        bath.water = 3; // kg per metre
    if (loin.film)
        bath.film = 3e-8; // still brine under a face, Biot about 6
    return transport::assemble(mesh, media, bath);
}

void check_states(const transport::History& history,
                  const std::vector<Eigen::VectorXd>& reference) {
    for (std::size_t i = 0; i < times.size(); ++i) {
        CAPTURE(times[i] / day);
        const auto state = history.at(times[i]);
        const auto n = state.free.size();
        CHECK((state.free - reference[i].head(n)).cwiseAbs().maxCoeff() < allowed);
        CHECK((state.dose - reference[i].tail(n)).cwiseAbs().maxCoeff() < allowed * times[i]);
    }
}

} // namespace

TEST_CASE("the loin's states are those of a general ODE library on the same cells",
          "[verification]") {
    const auto loin = GENERATE(Loin{}, Loin{true, false}, Loin{false, true});
    CAPTURE(loin.film, loin.held);
    const auto system = assemble(loin);
    const auto reference = integrate(system, times, 1e-10);
    check_states(transport::Spectrum(system, times.front(), times.back()), reference);
    check_states(transport::Stepper(system, {}, times.back()), reference);
}

TEST_CASE("loss that differs between tissues is solved like any other", "[verification]") {
    const auto loin = GENERATE(Loin{false, false, 0}, Loin{false, true, 5e-7});
    CAPTURE(loin.held, loin.fat_loss);
    const auto system = assemble(loin);
    const auto reference = integrate(system, times, 1e-10);
    check_states(transport::Stepper(system, {}, times.back()), reference);
    check_states(transport::Spectrum(system, times.front(), times.back()), reference);
}

TEST_CASE("a cooler that swings is followed by the stepper as by a general ODE library",
          "[verification]") {
    // Factors of exp(swing sin) with a period of 5 days: diffusion by Arrhenius' 25 kJ/mol and loss
    // by 38 kJ/mol for a swing of 2 K move by about +-8 % and +-12 %; here thrice that. The clock
    // needs the integrals of the factors, so these are chosen to have one: 1 + a sin.
    const double w = 2 * std::numbers::pi / (5 * day), a = 0.24, b = 0.36;
    const auto integral = [w](double size) {
        return [w, size](double t) { return t + size / w * (1 - std::cos(w * t)); };
    };
    const auto system = assemble({});
    const auto reference = integrate(system, times, 1e-10, {}, [&](double t) {
        return Factors{1 + a * std::sin(w * t), 1 + b * std::sin(w * t)};
    });
    check_states(transport::Stepper(system, {integral(a), integral(b)}, times.back()), reference);
}

} // namespace test_reference
