// SPDX-License-Identifier: MIT
/// The whole problem against a general ODE library: a bone-in loin with a fat cap, fibres, loss and
/// a finite bath, on the same cells. What differs is only how time is treated. An invented
/// scenario.
#include "geometry/shapes.hpp"
#include "transport/stepper.hpp"
#include "verification/cvode.hpp"
#include "verification/fields.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::verification;

namespace {

constexpr double day = 86400;

transport::System loin(double spacing, bool film, bool held) {
    geometry::Dimensions d;
    d.thickness = 0.080;
    d.width = 0.128;
    d.fat_cap = 0.006;
    d.bones = 3;
    const auto mesh = geometry::triangulate(geometry::loin(d, "loin"), spacing);
    std::vector<transport::Medium> media;
    for (const auto& kind : mesh.kinds)
        media.push_back(kind == "fat" ? transport::Medium{100, 1e-10}
                                      : transport::Medium{780, 2.4e-10, 1.3, 0.4, 1e-6});
    transport::Bath bath;
    bath.concentration = 1;
    bath.partition = 0.95;
    bath.loss = 3e-7;
    if (!held)
        bath.water = 3; // kg per metre
    if (film)
        bath.film = 3e-8; // still brine under a face, Biot about 6
    return transport::assemble(mesh, media, bath);
}

} // namespace

TEST_CASE("the loin's states are those of a general ODE library on the same cells",
          "[verification]") {
    // Asked of the library: 1e-10. Allowed: 1e-5 of the brine's strength, from the first day on.
    const std::vector<double> times = {1 * day, 4 * day, 15 * day, 60 * day};
    for (const auto& [film, held] :
         {std::pair(false, false), std::pair(true, false), std::pair(false, true)}) {
        CAPTURE(film, held);
        auto system = loin(0.080 / 24, film, held);
        const auto reference = integrate(system, times, 1e-10);
        const transport::Spectrum history(system, times.front(), times.back());
        for (std::size_t i = 0; i < times.size(); ++i) {
            CAPTURE(times[i] / day);
            const auto state = history.at(times[i]);
            const auto n = state.free.size();
            CHECK((state.free - reference[i].head(n)).cwiseAbs().maxCoeff() < 1e-5);
            CHECK((state.dose - reference[i].tail(n)).cwiseAbs().maxCoeff() < 1e-5 * times[i]);
        }
    }
}
