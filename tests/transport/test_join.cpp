// SPDX-License-Identifier: MIT
/// Systems joined in one bath. All scenarios are invented, with numbers of the right size.
#include "common.hpp"
#include "transport/join.hpp"

#include "base/error.hpp"
#include "transport/cases.hpp"
#include "transport/spectrum.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

using namespace tidemark;
using namespace tidemark::transport;
using test::day;

namespace {

constexpr double solver = 1e-7;        ///< what Spectrum asks of itself, in the water-weighted norm
constexpr double off_by = 10 * solver; ///< node by node, as against the ODE library

constexpr double held = std::numeric_limits<double>::infinity();

/// A sheet per m2, wet on both sides.
System sheet(double thickness, double bath_water, double strength = 0.06, double film = held) {
    const auto line = geometry::line({{"lean", thickness}}, 48, 0, true, true);
    Bath bath;
    bath.water = bath_water;
    bath.concentration = strength;
    bath.partition = 0.95;
    bath.film = film;
    return assemble(line, {Medium{780, 2.4e-10, 1, 0, 0, 0.01}}, bath);
}

Eigen::VectorXd of_part(const Joined& j, std::size_t k, const Eigen::VectorXd& u) {
    return u(j.unknowns[k]);
}

double off(const Eigen::VectorXd& a, const Eigen::VectorXd& b) {
    return (a - b).cwiseAbs().maxCoeff() / 0.06;
}

} // namespace

TEST_CASE("two pieces alike in one bath are one case of two pieces", "[transport]") {
    const double film = GENERATE(values<double>({held, 1e-7}));
    const double water = GENERATE(values<double>({held, 30}));
    const System one = sheet(0.05, water, 0.06, film);
    const Joined pair = join({{one, 1}, {one, 1}}), twice = join({{one, 2}});
    const Spectrum alone(one, day, 40 * day), both(pair.system, day, 40 * day),
        doubled(twice.system, day, 40 * day);
    CAPTURE(film, water);
    CHECK(pair.system.capacity.sum() == Approx(2 * one.capacity.sum()).epsilon(1e-14)); // roundoff
    for (const double t : {day, 6 * day, 40 * day}) {
        const auto expected = alone.at(t).free, joined = both.at(t).free;
        CHECK(off(of_part(pair, 0, joined), expected) < off_by);
        CHECK(off(of_part(pair, 1, joined), expected) < off_by);
        CHECK(off(of_part(twice, 0, doubled.at(t).free), expected) < off_by);
    }
}

TEST_CASE("in a bath that is held, or very large, each part goes its own way", "[transport]") {
    // 1e9 kg of water takes 1e-7 of the change of some 80 kg of tissue water.
    const double water = GENERATE(values<double>({held, 1e9}));
    const Joined j = join({{sheet(0.03, water), 0.7}, {sheet(0.08, water), 2}});
    const Spectrum both(j.system, day, 60 * day);
    const Spectrum thin(sheet(0.03, held), day, 60 * day), thick(sheet(0.08, held), day, 60 * day);
    CAPTURE(water);
    for (const double t : {day, 10 * day, 60 * day}) {
        CHECK(off(of_part(j, 0, both.at(t).free), thin.at(t).free) < off_by);
        CHECK(off(of_part(j, 1, both.at(t).free), thick.at(t).free) < off_by);
    }
}

TEST_CASE("a small piece beside a big one in little brine comes to the balance worked out by hand",
          "[transport]") {
    // Per m2: thin 0.02 m x 780 = 15.6 kg of water, 0.5 m2 of it; thick 0.09 x 780 = 70.2, 2 m2.
    // Bath 40 kg at 0.06, tissue at 0.01, partition 0.95: solute / (bath + 0.95 tissue) per kg bath
    // water.
    const double tissue = 0.5 * 15.6 + 2 * 70.2, bath = 40;
    const double strength = (bath * 0.06 + tissue * 0.01) / (bath + 0.95 * tissue);
    // The bath is shared out by halves here; how does not matter.
    const Joined j = join({{sheet(0.02, 20 / 0.5), 0.5}, {sheet(0.09, 20 / 2.), 2}});
    const double last = 3000 * day; // 13 times l2/D of the thick one
    const Spectrum both(j.system, day, last);
    CHECK(j.system.bath_capacity == Approx(bath / 0.95).epsilon(1e-14)); // roundoff
    const auto end = both.at(last).free;
    CHECK((end.array() / (0.95 * strength) - 1).abs().maxCoeff() < off_by);
    for (const double t : {0., day, 20 * day, last})
        CHECK(mass_balance_error(j.system, both, t) < 1e-10); // the project's own requirement
    // Alone in the same bucket the small one would end far saltier.
    const Joined small = join({{sheet(0.02, bath / 0.5), 0.5}});
    const double alone = Spectrum(small.system, day, last).at(last).free[0];
    CHECK(alone == Approx(0.95 * (bath * 0.06 + 7.8 * 0.01) / (bath + 0.95 * 7.8)).epsilon(off_by));
    CHECK(alone > 1.5 * end[0]);
}

TEST_CASE("random systems joined keep mass, symmetry and zero row sums", "[transport]") {
    const unsigned seed = GENERATE(range(1u, 31u));
    const auto a = transport_tests::random_case(seed);
    auto b = transport_tests::random_case(seed + 1000);
    b.bath = a.bath;
    CAPTURE(seed, a.what, b.what, a.bath.water, a.bath.film, a.bath.loss);
    const System sa = a.assemble(), sb = b.assemble();
    const Joined j = join({{sa, 1.7}, {sb, 0.4}});
    const double last = std::min(a.last, b.last);
    const Spectrum both(j.system, last / 100, last);
    for (const double share : {0.0, 0.01, 0.1, 1.0})
        CHECK(mass_balance_error(j.system, both, share * last) <
              1e-10); // the project's own requirement
    const double size = Eigen::Map<const Eigen::ArrayXd>(j.system.conductance.valuePtr(),
                                                         j.system.conductance.nonZeros())
                            .abs()
                            .maxCoeff();
    // Roundoff of sums of some hundred terms (the bath's row).
    CHECK((j.system.conductance * Eigen::VectorXd::Ones(j.system.capacity.size()))
              .cwiseAbs()
              .maxCoeff() < 1e-13 * size);
    CHECK(Eigen::SparseMatrix<double>(j.system.conductance -
                                      Eigen::SparseMatrix<double>(j.system.conductance.transpose()))
              .norm() < 1e-13 * size);
    for (const auto& [k, part] : {std::pair(0, sa), std::pair(1, sb)}) {
        const Spectrum share(both, part, j.unknowns[k].front());
        const Eigen::VectorXd u = both.at(last).free;
        CHECK((share.at(last).free - of_part(j, k, u)).cwiseAbs().maxCoeff() <
              1e-13 * u.cwiseAbs().maxCoeff()); // roundoff
    }
}

TEST_CASE("a part's view of the joined history is its states, and what a held bath gave it",
          "[transport]") {
    const System thin = sheet(0.03, held), thick = sheet(0.08, held);
    const Joined j = join({{thin, 0.7}, {thick, 2}});
    const Spectrum both(j.system, day, 60 * day);
    const Spectrum a(both, thin, j.unknowns[0].front()), b(both, thick, j.unknowns[1].front());
    for (const double t : {day, 60 * day}) {
        CHECK(a.at(t).free.isApprox(of_part(j, 0, both.at(t).free), 1e-14));             // roundoff
        CHECK(b.arrived(t, 1e-6).isApprox(of_part(j, 1, both.arrived(t, 1e-6)), 1e-14)); // roundoff
        CHECK(0.7 * a.influx(t) + 2 * b.influx(t) == Approx(both.influx(t)).epsilon(1e-10));
        CHECK(mass_balance_error(thick, b, t) < 1e-10); // held: each part balances on its own
    }
    CHECK(a.last() == 60 * day);
}

TEST_CASE("a question to a part costs what the part has, however many lie in the bath",
          "[transport]") {
    const auto solve = [](int count) {
        std::vector<Part> parts;
        for (int k = 0; k < count; ++k)
            parts.push_back({sheet(0.03 + 0.05 * k / count, 20.0), 1.0 + k % 3});
        const Joined j = join(parts);
        const Spectrum whole(j.system, day, 60 * day);
        Eigen::Index numbers = 0;
        for (int k = 0; k < count; ++k)
            numbers += Spectrum(whole, parts[k].system, j.unknowns[k].front()).numbers();
        return std::pair(static_cast<double>(numbers) / count, whole.vectors());
    };
    const auto [few, small] = solve(64);
    const auto [many, large] = solve(512);
    // One pole serves any spectrum: the space does not grow with the pieces, nor a piece's
    // question.
    CHECK(large < 1.3 * small);
    CHECK(many < 1.3 * few);
}

TEST_CASE("baths that cannot be one are refused", "[transport]") {
    System other = sheet(0.05, 30);
    other.partition = 1;
    System losing = sheet(0.05, 30);
    losing.bath_loss = 1e-7;
    CHECK_THROWS_AS(join({{sheet(0.05, 30), 1}, {sheet(0.05, held), 1}}), base::RunError);
    CHECK_THROWS_AS(join({{sheet(0.05, held, 0.06), 1}, {sheet(0.05, held, 0.05), 1}}),
                    base::RunError);
    CHECK_THROWS_AS(join({{sheet(0.05, 30), 1}, {other, 1}}), base::RunError);
    CHECK_THROWS_AS(join({{sheet(0.05, 30), 1}, {losing, 1}}), base::RunError);
}
