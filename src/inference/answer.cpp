// SPDX-License-Identifier: MIT
#include "inference/answer.hpp"

#include "base/side_by_side.hpp"
#include "cure/two_meshes.hpp"
#include "inference/draws.hpp"
#include "inference/similar.hpp"

namespace tidemark::inference {
namespace {

/// What varies in one brine, and draws of it.
struct Varied {
    Inputs inputs;
    Draws draws;
};

Varied varied(const cure::Question& question, const base::Records& records,
              const InputsOf& inputs_of, const Ask& ask) {
    base::Records own = records;
    const cure::Coefficients c = cure::coefficients(question, own);
    const Inputs inputs = inputs_of(question.base, c.first());
    return {inputs, draws_of(question.base, c.first(), records, inputs, ask)};
}

void of_brine(Answer& a, const Varied& by, const base::Records& records, const InputsOf& inputs_of,
              const Wanted& wanted, const cure::Progress& progress) {
    cure::Outcome& o = a.outcome;
    a.ranges = ranges(o, records, by.inputs, wanted.ask, by.draws);
    a.outcome.findings.supersede(a.ranges->findings);
    if (wanted.seen) { // which leaves nothing to change but the days
        a.still = Inquiry(o, records, wanted.seen->time, 1024, progress, &by.inputs)
                      .still(*wanted.seen, wanted.ask.confidence);
        a.ranges->pull = a.still->cured;
        a.ranges->salted = a.still->salted;
        a.ranges->last_good = a.still->last_good;
        a.ranges->best = a.still->best;
    } else if (wanted.changes)
        a.changes = smallest_change(o, {a.ranges->best}, records, inputs_of, wanted.ask);
    if (wanted.at_best && a.ranges->best.best && !o.question.base.at) {
        const judge::Findings findings = o.findings;
        o = cure::told_at(o, a.ranges->best.best->time, records);
        o.findings = findings;
    }
    o.parameters.insert(o.parameters.end(), a.ranges->parameters.begin(),
                        a.ranges->parameters.end());
}

} // namespace

Answer answer(const cure::Question& question, const base::Records& records,
              const InputsOf& inputs_of, const Wanted& wanted, const cure::Progress& progress) {
    Answer a;
    std::future<Varied> by; // made beside the solve
    const bool in_one_brine = wanted.ask.draws > 0 && question.others.empty() && scales(question);
    if (in_one_brine)
        by = base::beside([&] { return varied(question, records, inputs_of, wanted.ask); });
    a.outcome = cure::run(question, records, progress);
    if (wanted.ask.draws == 0)
        return a;
    if (progress)
        progress(0.9, "chances");
    if (!question.others.empty()) {
        a.chances = bucket_chances(a.outcome, records, inputs_of, wanted.ask);
        if (a.chances.empty()) {
            a.outcome.findings.note("chances are worked out for up to " +
                                    std::to_string(most_bucket_kinds) + " pieces that differ");
            return a;
        }
        a.outcome.findings.supersede(of_waiting(a.outcome, a.chances, records));
        if (wanted.changes)
            a.changes = smallest_change(a.outcome, a.chances, records, inputs_of, wanted.ask);
    } else if (in_one_brine) {
        of_brine(a, by.get(), records, inputs_of, wanted, progress);
    } else {
        const Inputs inputs = schedule_inputs(a.outcome, records, inputs_of);
        std::optional<ScheduleFit> fit;
        if (as_day(a.outcome))
            a.chance = schedule_chance(a.outcome, records, inputs, wanted.ask);
        else
            a.chance = fit.emplace(a.outcome, records, inputs, wanted.ask).chance();
        a.outcome.findings.supersede(a.chance->findings);
        if (wanted.changes)
            a.changes = smallest_change(a.outcome, {a.chance->best}, records, inputs_of, wanted.ask,
                                        fit ? &*fit : nullptr);
        if (wanted.schedule_range)
            a.schedule_range = schedule_range(a.outcome, records, inputs, wanted.ask.draws);
    }
    return a;
}

} // namespace tidemark::inference
