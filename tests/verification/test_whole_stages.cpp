// SPDX-License-Identifier: MIT
/// Schedules on a short block with a fat cap against the same in three dimensions: finite volumes
/// on a plain grid (brick.hpp), integrated by SUNDIALS CVODE, on two grids and extrapolated.
#include "cure/coefficients.hpp"
#include "cure/plans.hpp"
#include "materials/diffusion.hpp"
#include "verification/brick.hpp"
#include "verification/cvode.hpp"
#include "verification/fields.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <memory>

namespace test_whole_stages {

using namespace tidemark;
using namespace tidemark::plans;
using namespace tidemark::verification;
using Eigen::VectorXd;

namespace {

constexpr double diffusion_energy = 25e3, loss_energy = 60e3; // [J/mol], set, not the records'
constexpr double thickness = 0.048, width = 0.052, length = 0.07, fat = 0.009;

/// Invented: pork loin, 48 x 52 x 70 mm with 9 mm of fat on it, alone in a little brine.
Question block(std::vector<Stage> stages) {
    Question p;
    cure::Piece& piece = p.base.piece;
    piece.shape = "block";
    piece.dimensions.thickness = thickness;
    piece.dimensions.width = width;
    piece.dimensions.fat_cap = fat;
    piece.length = length;
    p.base.brine.salt = 0.06;
    p.base.brine.nitrite = 150e-6;
    p.base.brine.mass = 0.3;
    p.stages = std::move(stages);
    return p;
}

/// What a solute does in three dimensions, stage after stage.
class Solid {
public:
    Solid(const Question& plan, int fineness, bool nitrite) : nitrite_(nitrite) {
        base::Records r = fixed_records();
        setup_ = cure::coefficients(plan, r);
        brick_ = {thickness, width, length, fat, 4 * fineness, 16 * fineness, 6 * fineness, true};
        nodal_ = reacted_ = VectorXd::Zero(brick_.nodes());
    }
    const cure::StageSetup& stage(std::size_t k) const { return setup_.stages()[k]; }
    transport::Bath bath(std::size_t k) const {
        return nitrite_ ? stage(k).setup.nitrite_bath : stage(k).setup.salt_bath;
    }
    /// A stage of `time` [s], in a bath or with nothing on it.
    void follow(std::size_t k, const transport::Bath& bath, double time, bool closed = false) {
        transport::System s = system(k, bath, closed);
        s.initial = begun(s, nodal_, bath.partition * bath.concentration);
        std::function<Factors(double)> factors;
        if (const auto& log = stage(k).stage.log) // from its beginning
            factors = [&](double t) {
                const double at = log->at(t), mean = log->mean();
                return Factors{materials::arrhenius(1, diffusion_energy, mean, at),
                               materials::arrhenius(1, loss_energy, mean, at)};
            };
        const VectorXd end = integrate(s, {time}, 1e-7, {}, factors).back();
        const auto n = s.capacity.size();
        nodal_ = nodal(s, end.head(n));
        reacted_ += loss(k) * nodal(s, end.tail(n));
    }
    /// When a held film has given the tissue `dose` [kg]; [s].
    double given(std::size_t k, const transport::Bath& bath, double dose, double longest) const {
        transport::System s = system(k, bath, false);
        s.initial = begun(s, nodal_, bath.partition * bath.concentration);
        std::vector<double> times;
        for (int i = 1; i <= 60; ++i)
            times.push_back(longest * i * i / 3600.0);
        const VectorXd water = s.region_water[0] + s.region_water[1];
        double before = 0, from = 0;
        const auto all = integrate(s, times, 1e-7);
        for (std::size_t i = 0; i < all.size(); ++i) {
            const auto n = s.capacity.size();
            const double now =
                water.dot(nodal(s, all[i].head(n)) + loss(k) * nodal(s, all[i].tail(n)) - nodal_);
            if (now >= dose) {
                const double f = (dose - before) / (now - before); // straight in the root of time
                return std::pow(std::sqrt(from) + f * (std::sqrt(times[i]) - std::sqrt(from)), 2);
            }
            before = now;
            from = times[i];
        }
        return longest;
    }
    double mean() const { return lean().dot(nodal_); }
    double mean_arrived() const { return lean().dot(nodal_ + reacted_); }
    double core() const { return brick_.least(nodal_ + reacted_); }

private:
    transport::System system(std::size_t k, const transport::Bath& bath, bool closed) const {
        const auto& tissues = stage(k).setup.tissues;
        const auto of = [&](const char* kind) {
            return nitrite_ ? tissues.at(kind).nitrite : tissues.at(kind).salt;
        };
        return brick_.system(of("lean"), of("fat"), bath, closed);
    }
    double loss(std::size_t k) const {
        return nitrite_ ? stage(k).setup.tissues.at("lean").nitrite.loss : 0;
    }
    VectorXd lean() const {
        const VectorXd w = system(0, bath(0), false).region_water[0];
        return w / w.sum();
    }
    bool nitrite_;
    cure::Coefficients setup_;
    Brick brick_;
    VectorXd nodal_, reacted_;
};

/// The values of two grids, extrapolated as errors fall by the square, and a quarter of that step:
/// what the reference itself may err by.
struct Reference {
    VectorXd value, error;
};
template <class Run> Reference extrapolated(const Run& run) {
    const VectorXd coarse = run(2), fine = run(3), step = (fine - coarse) * 4 / 5;
    return {fine + step, step.cwiseAbs() / 4};
}

/// Within a thousandth, and what the reference errs by.
void check(double value, const Reference& reference, Eigen::Index i) {
    CAPTURE(i, value, reference.value[i], reference.error[i]);
    CHECK(std::abs(value - reference.value[i]) < 1e-3 * reference.value[i] + reference.error[i]);
}

} // namespace

TEST_CASE("brine, soak and rest of a short block with fat are those of three dimensions",
          "[verification]") {
    const Question plan =
        block({stage(Kind::cover, 3 * day), soak(8 * hour, 0.5, 1), stage(Kind::rest, 4 * day)});
    const auto r = run(plan);
    CHECK(r.mass_balance_error < 1e-10);
    base::Records own = fixed_records();
    const cure::Tissue lean_tissue =
        cure::coefficients(plan, own).stages()[0].setup.tissues.at("lean");
    const double w = lean_tissue.water_fraction;
    // Salt [kg per kg water], nitrite arrived; of the mean and of the core, stage after stage.
    const auto follow = [&](bool nitrite, int fineness) {
        Solid solid(plan, fineness, nitrite);
        VectorXd out(6);
        solid.follow(0, solid.bath(0), 3 * day);
        out.segment(0, 2) << (nitrite ? solid.mean_arrived() : solid.mean()), solid.core();
        for (int water = 0; water < 2; ++water)
            solid.follow(1, solid.bath(1), 4 * hour);
        out.segment(2, 2) << (nitrite ? solid.mean_arrived() : solid.mean()), solid.core();
        solid.follow(2, solid.bath(2), 4 * day, true);
        out.segment(4, 2) << (nitrite ? solid.mean_arrived() : solid.mean()), solid.core();
        return out;
    };
    const Reference salt = extrapolated([&](int f) { return follow(false, f); });
    const Reference nitrite = extrapolated([&](int f) { return follow(true, f); });
    for (int k = 0; k < 3; ++k) {
        CAPTURE(k);
        const cure::Reading& end = r.first().stages[static_cast<std::size_t>(k)].end;
        check(lean_tissue.concentration(end.mean_salt), salt, 2 * k);
        check(end.mean_arrived / w, nitrite, 2 * k);
        check(end.core_arrived / w, nitrite, 2 * k + 1);
    }
}

TEST_CASE("a rub on a short block goes in through faces and ends", "[verification]") {
    Stage rub = dry(Kind::rub, 6 * day, 0.03);
    rub.purge = 0;
    const Question plan = block({rub});
    const auto r = run(plan);
    REQUIRE(r.first().stages[0].gone);
    CHECK(r.mass_balance_error < 1e-10);
    CHECK(r.first().stages[0].salt_taken == Approx(0.03 * r.first().weight).epsilon(1e-9));
    base::Records own = fixed_records();
    const cure::Tissue tissue = cure::coefficients(plan, own).stages()[0].setup.tissues.at("lean");
    const Reference of = extrapolated([&](int f) {
        Solid solid(plan, f, false);
        const double gone = solid.given(0, solid.bath(0), solid.stage(0).salt.load, 2 * day);
        solid.follow(0, solid.bath(0), gone);
        solid.follow(0, solid.bath(0), 6 * day - gone, true);
        return VectorXd(Eigen::Vector3d(gone, solid.mean(), solid.core()));
    });
    check(*r.first().stages[0].gone, of, 0);
    check(tissue.concentration(r.first().stages[0].end.mean_salt), of, 1);
    check(tissue.concentration(r.first().stages[0].end.core_salt), of, 2);
}

TEST_CASE("a short block in a cooler with a log is that of three dimensions", "[verification]") {
    // Invented: from 0.5 to 9 degrees in three days, where diffusion and loss part ways.
    Stage brine = stage(Kind::cover, 3 * day);
    brine.log = std::make_shared<cure::CoolerLog>(
        cure::CoolerLog{{0, 6 * hour, day, 3 * day}, {273.65, 275.15, 279.15, 282.15}, {}, {}});
    Question plan = block({brine});
    plan.base.overrides = {{"diffusion.activation-energy", "25 kJ/mol", "--set"},
                           {"kinetics.activation-energy", "60 kJ/mol", "--set"}};
    const auto r = run(plan);
    CHECK(r.mass_balance_error < 1e-10);
    base::Records own = fixed_records();
    const cure::Tissue tissue = cure::coefficients(plan, own).stages()[0].setup.tissues.at("lean");
    const auto follow = [&](bool nitrite, int fineness) {
        Solid solid(plan, fineness, nitrite);
        solid.follow(0, solid.bath(0), 3 * day);
        return VectorXd(
            Eigen::Vector2d(nitrite ? solid.mean_arrived() : solid.mean(), solid.core()));
    };
    const Reference salt = extrapolated([&](int f) { return follow(false, f); });
    const Reference nitrite = extrapolated([&](int f) { return follow(true, f); });
    const cure::Reading& end = r.first().stages[0].end;
    check(tissue.concentration(end.mean_salt), salt, 0);
    check(end.mean_arrived / tissue.water_fraction, nitrite, 0);
    check(end.core_arrived / tissue.water_fraction, nitrite, 1);
}

TEST_CASE("a short block in a bag lies in what has dripped, at its ends too", "[verification]") {
    // Much salt, so that what the wall nodes of the plain grid hold is little of it.
    Stage bag = dry(Kind::bag, 8 * day, 0.08, 400e-6);
    bag.purge = 0.04;
    const Question plan = block({bag});
    const auto r = run(plan);
    REQUIRE(r.first().stages[0].gone);
    CHECK(r.mass_balance_error < 1e-10);
    base::Records own = fixed_records();
    const cure::Tissue tissue = cure::coefficients(plan, own).stages()[0].setup.tissues.at("lean");
    const auto follow = [&](bool nitrite, int fineness) {
        Solid solid(plan, fineness, nitrite);
        const cure::StageSetup::Dose& dose = nitrite ? solid.stage(0).nitrite : solid.stage(0).salt;
        transport::Bath bath = solid.bath(0);
        const double gone = solid.given(0, bath, dose.load - dose.drip, 4 * day);
        solid.follow(0, bath, gone);
        bath.water = dose.kept_water;
        solid.follow(0, bath, 8 * day - gone);
        return VectorXd(
            Eigen::Vector3d(gone, nitrite ? solid.mean_arrived() : solid.mean(), solid.core()));
    };
    const Reference salt = extrapolated([&](int f) { return follow(false, f); });
    const Reference nitrite = extrapolated([&](int f) { return follow(true, f); });
    const cure::Reading& end = r.first().stages[0].end;
    check(*r.first().stages[0].gone, salt, 0);
    check(tissue.concentration(end.mean_salt), salt, 1);
    // Salt at the core is told where the nitrite is least, not where the salt is.
    check(end.mean_arrived / tissue.water_fraction, nitrite, 1);
    check(end.core_arrived / tissue.water_fraction, nitrite, 2);
}

} // namespace test_whole_stages
