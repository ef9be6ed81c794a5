// SPDX-License-Identifier: MIT
#include "inference/choose_chance.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace tidemark::inference {
namespace {

/// The flags of a method with its cure kept to a length [s] in place of what it waits for.
std::string kept_to(std::string schedule, double length) {
    const auto from = schedule.find(", until cured"), to = schedule.find('"', from);
    if (from != std::string::npos && to != std::string::npos)
        schedule.replace(from, to - from, ", " + base::significant(length / 86400, 4) + " d");
    return schedule;
}

/// No later than a length [s] from the start; the best of all where no such day is likely.
BestDay in_time(const BestDay& all, double last, int draws) {
    std::vector<DayChance> days = all.by_day;
    std::erase_if(days, [&](const DayChance& d) { return d.time > last; });
    const BestDay soon = best_of(std::move(days), all.confidence, static_cast<std::size_t>(draws));
    return soon.likely() ? soon : all;
}

/// Of a method that is run again as it is kept: to the best day.
Way way_of(const cure::ChooseQuestion& q, cure::Method& m, const base::Records& records,
           const std::function<Inputs(const cure::Outcome&)>& inputs_of, const Ask& ask) {
    Way w;
    w.schedule = m.schedule;
    w.ruled_out = m.ruled_out;
    w.ready = m.ready;
    if (!m.ruled_out.empty() || ask.draws == 0)
        return w;
    w.chance = schedule_chance(m.result, records, inputs_of(m.result), ask);
    const std::size_t k = w.chance->stage;
    const auto& stages = m.result.first().stages;
    const double from = stages[k].from, behind = stages.back().to - stages[k].to;
    const double last = std::min(q.within.value_or(never), q.base.horizon);
    w.chance->best = kept_cold(in_time(w.chance->best, last - behind, ask.draws), m.result, k,
                               records, ask.draws);
    const BestDay& best = w.chance->best;
    const auto ready_at = [&](double time) {
        w.ready = time;
        if (time > last)
            w.ruled_out = "ready only after " + base::day_number(time, base::Rounding::up) +
                          " days, and " +
                          (q.within ? "there are " : "no more are looked at than ") +
                          base::day_number(last, base::Rounding::down);
        return time <= last;
    };
    if (!best.likely()) {
        w.ruled_out = best.best && best.best->right >= 0.005
                          ? "on its best day only " +
                                base::significant(std::round(100 * best.best->right), 3) +
                                " in 100 come out right"
                          : "it comes out right on no day looked at";
        return w;
    }
    w.schedule = kept_to(m.schedule, best.best->time - from);
    cure::Question kept = m.result.question;
    kept.stages[k].duration = best.best->time - from;
    kept.stages[k].until.reset();
    const bool in_it = ready_at(best.best->time + behind);
    m.result = cure::run(kept, records);
    if (!in_it || !ready_at(m.result.first().stages.back().to)) // a rest has its own length now
        return w;
    if (const auto dangers = m.result.findings.dangers(); !dangers.empty())
        w.ruled_out = dangers.front();
    return w;
}

} // namespace

Ways ways_of(cure::Choice& c, const base::Records& records,
             const std::function<Inputs(const cure::Outcome&)>& inputs_of, const Ask& ask,
             const cure::Progress& progress) {
    Ways ways;
    for (cure::Method& m : c.methods) {
        if (progress)
            progress(static_cast<double>(ways.list.size()) / static_cast<double>(c.methods.size()),
                     m.name);
        ways.list.push_back(way_of(c.question, m, records, inputs_of, ask));
    }
    const auto rank = [&](std::size_t k) {
        const Way& w = ways.list[k];
        const bool sure = !w.chance || w.chance->best.sure();
        const double chance = w.chance ? w.chance->best.best->right : 1;
        const bool too_long = c.methods[k].result.findings.has("long-cure");
        return std::tuple(too_long, !sure, sure ? w.ready.value_or(never) : -chance,
                          c.methods[k].result.hands);
    };
    const auto take = [&](std::size_t k) {
        if (ways.list[k].ruled_out.empty() && (!ways.best || rank(k) < rank(*ways.best)))
            ways.best = k;
    };
    for (std::size_t k = 0; k < ways.list.size(); ++k)
        take(k);
    if (!ways.best || std::get<0>(rank(*ways.best)) || std::get<1>(rank(*ways.best)))
        if (auto halves = cure::cut_in_two(c, records)) {
            const Way way = way_of(c.question, *halves, records, inputs_of, ask);
            if (way.ruled_out.empty()) { // no line for what is no help
                c.methods.push_back(std::move(*halves));
                ways.list.push_back(way);
                take(ways.list.size() - 1);
            }
        }
    if (!ways.best && !ways.list.empty())
        ways.reason = c.methods.front().name + ": " + ways.list.front().ruled_out;
    return ways;
}

} // namespace tidemark::inference
