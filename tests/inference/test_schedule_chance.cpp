// SPDX-License-Identifier: MIT
/// The chance of a schedule against the schedule itself, run draw by draw on the same cells. All
/// cuts and schedules are invented.
#include "common.hpp"
#include "inference/schedule_chance.hpp"

#include "inference/case_inputs.hpp"
#include "inference/sampling.hpp"
#include "materials/targets.hpp"

#include <catch2/catch.hpp>

namespace test_schedule_chance {

using namespace tidemark;
using namespace tidemark::inference;
using test::built_in;
using test::day;
using Kind = cure::Stage::Kind;

namespace {

cure::Question dry(Kind kind, double days, double salt) {
    cure::Question q;
    q.base.piece.shape = "block";
    q.base.piece.dimensions.thickness = 0.06;
    q.base.piece.dimensions.width = 0.13;
    q.base.piece.weight = 1.8;
    q.base.temperature = 276.15;
    q.base.brine.salt = 0.05; // for the inputs: nothing stands in it
    q.base.brine.nitrite = 200e-6;
    cure::Stage s;
    s.kind = kind;
    s.duration = days * day;
    s.salt = salt;
    s.nitrite = 150e-6;
    s.where = "--stage";
    q.stages = {s};
    return q;
}

cure::Question needles(double days) {
    cure::Question q = dry(Kind::rest, days, 0);
    q.stages.front().nitrite = 0;
    q.pump = cure::Pump{0.10, geometry::usual_needles(), {}};
    q.pump->brine.emplace();
    q.pump->brine->salt = 0.23;
    q.pump->brine->nitrite = 1500e-6;
    return q;
}

/// Shares of `n` draws, each run as it is.
DayChance direct(const cure::Outcome& o, const Inputs& inputs, int n, std::uint64_t seed) {
    base::Records records = built_in();
    const cure::Setup setup = cure::make_piece(o.question.base, records);
    const Drawing drawing(inputs, o.question.base, setup, built_in());
    const auto columns = static_cast<Eigen::Index>(inputs.list().size());
    // One number more is drawn for each, as the surface does.
    const Eigen::MatrixXd values = inputs.values(uniforms(n, columns + 1, seed).leftCols(columns));
    const materials::Band taste = materials::taste_band(records);
    std::vector<Fate> fates;
    for (Eigen::Index i = 0; i < n; ++i) {
        Draw d = drawing(values.row(i));
        if (!in_base_brine(o.question))
            d.salt = d.nitrite = d.dose;
        const cure::Rough r =
            cure::run_rough(with_draw(o.question, d, setup, records, o.first().target), built_in());
        const bool grey = r.end.core_arrived < r.target;
        fates.push_back({grey ? never : 0, r.end.mean_salt < taste.low ? never : 0,
                         r.end.mean_salt > taste.high ? 0 : never});
    }
    return chance_at(fates, o.first().stages.back().to);
}

} // namespace

TEST_CASE("the chance of a schedule is that of its own runs", "[inference]") {
    const cure::Question q =
        GENERATE(dry(Kind::bag, 9, 0.026), dry(Kind::rub, 8, 0.028), needles(1.5));
    const cure::Outcome o = cure::run(q, built_in());
    const InputsOf by_records = [](const cure::Case& c, const cure::Setup& setup) {
        return case_inputs(c, setup, built_in());
    };
    const Inputs inputs = schedule_inputs(o, built_in(), by_records);
    const Ask ask{192, 0.9};
    const ScheduleChance all = schedule_chance(o, built_in(), inputs, ask);
    CAPTURE(all.error);
    const DayChance said = all.as_planned, run = direct(o, inputs, ask.draws, ask.seed);
    CAPTURE(said.right, run.right, said.grey, run.grey, said.salty, run.salty, said.bland,
            run.bland);
    // The same draws: what is left is the surface's error, and the finer cells of the level.
    CHECK(said.right == Approx(run.right).margin(0.03));
    CHECK(said.grey == Approx(run.grey).margin(0.03));
}

} // namespace test_schedule_chance
