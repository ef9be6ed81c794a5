// SPDX-License-Identifier: MIT
/// A chain of baths, rests and shut faces, and a cooler with a log, against SUNDIALS CVODE on the
/// same cells, begun anew at every switch. Scenarios are invented.
#include "common.hpp"
#include "cure/cooler_log.hpp"
#include "geometry/shapes.hpp"
#include "materials/diffusion.hpp"
#include "transport/chain.hpp"
#include "transport/spectrum.hpp"
#include "verification/cvode.hpp"
#include "verification/fields.hpp"

#include <catch2/catch.hpp>

#include <memory>

namespace test_staged_switch {

using namespace tidemark;
using namespace tidemark::verification;
using test::day;
using test::hour;

namespace {

constexpr double half = 0.025;

/// One stage of a chain as a system, with nothing started yet.
struct Switch {
    double from = 0;
    transport::System system;
    transport::Bath bath;
    double loss = 0;
};

Eigen::VectorXd water_of(const transport::System& s) {
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(s.unknown.size()));
    for (const auto& w : s.region_water)
        sum += w;
    return sum;
}

/// The chain's own cells followed by CVODE, begun anew at each switch by the rule in chain.hpp:
/// nodes on the wet faces and the bath share what they hold.
template <class History>
void compare(std::vector<Switch> stages, double end, const Eigen::VectorXd& start, double allowed,
             const History& solve) {
    const Eigen::VectorXd water = water_of(stages.front().system);
    transport::Chain chain(start, water / water.sum());
    Eigen::VectorXd free = start, reacted = Eigen::VectorXd::Zero(start.size());
    double in = 0;
    for (std::size_t k = 0; k < stages.size(); ++k) {
        Switch& s = stages[k];
        const double last = (k + 1 < stages.size() ? stages[k + 1].from : end) - s.from;
        transport::start_from(s.system, chain.before(s.from), s.bath.concentration);
        chain.begin(s.from, s.system, solve(s.system, last), s.loss);

        transport::System own = s.system;
        own.initial = begun(own, free, s.bath.partition * s.bath.concentration);
        const std::vector<double> times = {0.1 * last, last};
        const auto states = integrate(own, times, 1e-10);
        const auto n = own.capacity.size();
        for (std::size_t i = 0; i < times.size(); ++i) {
            CAPTURE(k, times[i] / day);
            const double t = s.from + times[i];
            const Eigen::VectorXd now = nodal(own, states[i].head(n)),
                                  gone = reacted + s.loss * nodal(own, states[i].tail(n));
            CHECK((chain.free(t) - now).cwiseAbs().maxCoeff() < allowed);
            CHECK((chain.arrived(t) - now - gone).cwiseAbs().maxCoeff() < allowed);
            CHECK(chain.mean(t).first == Approx(water.dot(now) / water.sum()).margin(allowed));
            CHECK(chain.mean(t).second ==
                  Approx(water.dot(now + gone) / water.sum()).margin(allowed));
            if (own.bath_capacity > 0)
                CHECK(chain.bath(t) * s.bath.partition ==
                      Approx(states[i][own.bath()]).margin(allowed));
            CHECK(chain.mass_balance_error(t) < 1e-10);
        }
        const Eigen::VectorXd after = nodal(own, states.back().head(n));
        // What the tissue took: held and reacted now, less before.
        const Eigen::VectorXd lost = s.loss * nodal(own, states.back().tail(n));
        const double taken = water.dot(after + lost - free);
        in += taken;
        CHECK(chain.taken(k, s.from + last) == Approx(taken).margin(allowed * water.sum()));
        free = after;
        reacted += lost;
    }
    CHECK(chain.taken_between(0, end) == Approx(in).margin(allowed * water.sum()));
}

std::shared_ptr<const transport::History> spectrum(const transport::System& s, double last) {
    return std::make_shared<transport::Spectrum>(s, 0.05 * last, last);
}

transport::Bath bath(double water, double concentration, double loss) {
    transport::Bath b;
    b.water = water;
    b.concentration = concentration;
    b.partition = 0.95;
    b.loss = loss;
    return b;
}

/// Brine, fresh brine, rest, soak: days and baths [kg water per unit].
const double from[] = {0, 4 * day, 7 * day, 10 * day}, end = 10.5 * day;

} // namespace

TEST_CASE("a row of baths, a rest and a soak are those of a general ODE library",
          "[verification]") {
    const auto line = geometry::line({{"fat", 0.004}, {"lean", 0.036}}, 80, 0, true, true);
    auto shut = line, one_side = line;
    shut.wet_first = shut.wet_last = false;
    one_side.wet_first = false;
    const double loss = GENERATE(0., 1.2e-6);
    CAPTURE(loss);
    const auto at = [&](int k, const geometry::Line& cells, const transport::Bath& b,
                        double factor) {
        std::vector<transport::Medium> media;
        for (const auto& kind : cells.kinds)
            media.push_back(kind == "fat" ? transport::Medium{100, 1e-10 * factor, 1, 0, loss}
                                          : transport::Medium{780, 2.4e-10 * factor, 1, 0, loss});
        return Switch{from[k], transport::assemble(cells, media, b), b, loss};
    };
    compare({at(0, line, bath(40, 1, 3e-7), 1), at(1, one_side, bath(25, 0.9, 3e-7), 1.2),
             at(2, shut, bath(1, 0, 0), 0.9), at(3, line, bath(60, 0, 0), 1.1)},
            end, Eigen::VectorXd::Zero(81), 1e-6, spectrum);
}

TEST_CASE("a section through the same row of stages, faces shut on the way", "[verification]") {
    const auto piece =
        geometry::ham({.thickness = 0.07, .bones = 1, .faces = geometry::face_names()}, "test");
    const auto cells = geometry::triangulate(piece, 0.005);
    const double loss = 1e-6;
    const auto at = [&](int k, const std::vector<std::string>& sealed, const transport::Bath& b) {
        const auto mesh = geometry::with_sealed(cells, piece, sealed, "test");
        return Switch{from[k], transport::assemble(mesh, {{780, 2.4e-10, 1.3, 0.4, loss}}, b), b,
                      loss};
    };
    // kg water per metre of ham; the rest's bath touches nothing. It starts with uneven salt.
    Eigen::VectorXd start(static_cast<Eigen::Index>(cells.nodes.size()));
    for (Eigen::Index i = 0; i < start.size(); ++i)
        start[i] = 0.3 + 4 * cells.nodes[static_cast<std::size_t>(i)].x();
    compare({at(0, {}, bath(6, 1, 3e-7)), at(1, {"bottom"}, bath(4, 0.9, 3e-7)),
             at(2, geometry::face_names(), bath(1, 0, 0)), at(3, {"top"}, bath(8, 0, 0))},
            end, start, 1e-6, spectrum);
}

TEST_CASE("a cooler with a log runs a stage by its clock", "[verification]") {
    // Doors left open, invented. Diffusion by 25 kJ/mol, loss by 60.
    const cure::CoolerLog log{{0, 6 * hour, 7 * hour, 20 * hour, 2 * day, 6 * day},
                              {277, 276, 281, 276.5, 278, 277},
                              {},
                              {}};
    const double reference = 277.15, span = 6 * day;
    transport::Medium lean{780, 2.4e-10, 1, 0, 1e-6};
    const auto line = geometry::line({{"lean", half}}, 50, 0, false, true);
    const auto system = transport::assemble(line, {lean}, bath(40, 1, 1e-6));
    const auto n = system.capacity.size();
    const auto differ = [&](const Eigen::VectorXd& a, const Eigen::VectorXd& b) {
        return (a - b).cwiseAbs().maxCoeff();
    };
    // In proportion: the state is that of constant coefficients at the clock's time, exactly.
    const auto same = cure::clock(log, reference, 25e3, 25e3);
    const transport::Stepper even(system, same, span);
    const transport::Spectrum constant(system, hour, 1.2 * span);
    // Not in proportion: the library.
    const auto apart = cure::clock(log, reference, 25e3, 60e3);
    const transport::Stepper odd(system, apart, span);
    const std::vector<double> times = {0.7 * day, 2.5 * day, span};
    const auto states = integrate(system, times, 1e-9, {}, [&](double t) {
        return Factors{materials::arrhenius(1, 25e3, reference, log.at(t)),
                       materials::arrhenius(1, 60e3, reference, log.at(t))};
    });
    for (std::size_t i = 0; i < times.size(); ++i) {
        const double t = times[i];
        CAPTURE(t / day);
        const auto a = even.at(t), b = constant.at(same.diffusion(t)), c = odd.at(t);
        CHECK(differ(a.free, b.free) < 1e-6);
        CHECK(differ(a.dose, b.dose) < 1e-6 * t);
        CHECK(differ(c.free, states[i].head(n)) < 1e-6);
        CHECK(differ(c.dose, states[i].tail(n)) < 1e-6 * t);
        CHECK(transport::mass_balance_error(system, odd, t) < 1e-10);
    }
}

} // namespace test_staged_switch
