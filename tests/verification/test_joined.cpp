// SPDX-License-Identifier: MIT
/// Two sheets in one bath (an invented scenario) against a general ODE library on the same cells.
/// Asked of the library: 1e-10. Allowed: 1e-6 of the brine's strength, ten times what the solver
/// asks of itself.
#include "transport/join.hpp"
#include "transport/spectrum.hpp"
#include "verification/cvode.hpp"

#include <catch2/catch.hpp>

namespace test_joined {

using namespace tidemark;
using namespace tidemark::verification;

namespace {

/// A sheet per m2 in its share of the bath, with a loss [1/s] of its own.
transport::System sheet(double thickness, double fat, double loss, bool both_sides, double water) {
    const auto line = geometry::line({{"lean", thickness}, {"fat", fat}}, 60, 0, both_sides, true);
    std::vector<transport::Medium> media;
    for (const auto& kind : line.kinds)
        media.push_back(kind == "fat" ? transport::Medium{100, 1e-10, 1, 0, loss}
                                      : transport::Medium{780, 2.4e-10, 1, 0, loss});
    transport::Bath bath;
    bath.concentration = 1;
    bath.partition = 0.95;
    bath.loss = 3e-7;
    bath.water = water;
    return transport::assemble(line, media, bath);
}

} // namespace

TEST_CASE("two sheets in one bath have the states of a general ODE library on the same cells",
          "[verification]") {
    constexpr double day = 86400, allowed = 1e-6;
    const std::vector<double> times = {1 * day, 4 * day, 15 * day, 60 * day};
    const auto joined = transport::join(
        {{sheet(0.03, 0.002, 1e-6, true, 12), 0.8}, {sheet(0.07, 0.005, 6e-7, false, 5), 1.5}});
    const auto reference = integrate(joined.system, times, 1e-10);
    const transport::Spectrum history(joined.system, times.front(), times.back());
    for (std::size_t i = 0; i < times.size(); ++i) {
        CAPTURE(times[i] / day);
        const auto state = history.at(times[i]);
        const auto n = state.free.size();
        CHECK((state.free - reference[i].head(n)).cwiseAbs().maxCoeff() < allowed);
        CHECK((state.dose - reference[i].tail(n)).cwiseAbs().maxCoeff() < allowed * times[i]);
    }
}

} // namespace test_joined
