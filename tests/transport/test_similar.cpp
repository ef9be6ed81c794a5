// SPDX-License-Identifier: MIT
/// What is made of a section or a history that is there already is what it would be made anew. All
/// cases are invented; both sides are this program's, and differ in the way alone.
#include "transport/cases.hpp"
#include "transport/whole.hpp"

#include <catch2/catch.hpp>

#include <limits>

using namespace tidemark::transport;
using namespace tidemark::transport_tests;

namespace {

/// The case with one loss in all tissue [1/s].
Case with_loss(Case c, double loss) {
    for (Medium& m : c.media)
        m.loss = loss;
    return c;
}

} // namespace

TEST_CASE("a section with another bath is that assembled with it", "[transport]") {
    constexpr double rounding = 1e-12;
    for (const unsigned seed : {501u, 502u, 503u, 504u, 505u, 506u, 507u, 508u}) {
        Case other = with_loss(random_case(seed), 3e-7);
        System changed = with_loss(other, 9e-7).assemble();
        other.bath.water *= 0.4;
        other.bath.loss = 2e-7;
        change_bath(changed, 3e-7, other.bath);
        const System anew = other.assemble();
        CAPTURE(seed, other.what, anew.held);
        CHECK(changed.bath_capacity == Approx(anew.bath_capacity).epsilon(rounding));
        CHECK(changed.bath_loss == anew.bath_loss);
        CHECK(changed.capacity.isApprox(anew.capacity, rounding));
        CHECK(changed.loss.isApprox(anew.loss, rounding));
        CHECK(changed.initial.isApprox(anew.initial, rounding));
        CHECK((changed.conductance - anew.conductance).norm() == 0);
    }
}

TEST_CASE("the plane of the core is the first of all planes, of similar cases too", "[transport]") {
    for (const unsigned seed : {512u, 514u, 516u, 518u, 520u, 522u}) {
        Case c = with_loss(random_case(seed), 5e-7);
        c.bath.film = std::numeric_limits<double>::infinity();
        const auto extruded = [&] {
            System section = c.assemble();
            const Eigen::VectorXd flow = lengthwise(section, c.media);
            return extrude(std::move(section), flow, along(0.1, 0.03, 2),
                           std::numeric_limits<double>::infinity(), c.bath.concentration);
        };
        const Whole whole = extruded();
        const auto history = solve(whole, c.last / 100, c.last, 1e-6);
        c.bath.water *= 0.7;
        const Whole similar = extruded();
        history->front(c.last, 0); // from now on its plane is known
        const auto taken_over = solve(similar, c.last / 100, c.last, 1e-6, history.get());
        c.media.back().diffusivity *= 1 + 1e-7; // the same basis, other modes on it
        const Whole nearly = extruded();
        const auto turned = solve(nearly, c.last / 100, c.last, 1e-6, history.get());
        for (const auto& h : {history, taken_over, turned})
            for (const double t : {c.last / 50, c.last / 5, c.last}) {
                const Eigen::VectorXd all = h->arrived(t, 5e-7), front = h->front(t, 5e-7);
                CAPTURE(seed, c.what, t);
                const Eigen::Index nodes = front.size() - 1;
                CHECK((front.head(nodes) - all.head(nodes)).cwiseAbs().maxCoeff() <
                      1e-10 * all.cwiseAbs().maxCoeff());
                CHECK(front[nodes] == Approx(all[all.size() - 1]).epsilon(1e-10));
            }
    }
}
