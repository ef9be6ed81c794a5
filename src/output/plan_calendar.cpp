// SPDX-License-Identifier: MIT
#include "output/plan_calendar.hpp"

#include "base/quantity.hpp"
#include "output/plan_report.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string/join.hpp>

#include <algorithm>

namespace tidemark::output {

namespace {

using Kind = cure::Stage::Kind;

std::string faces(const cure::Stage& s) {
    std::string list;
    for (const std::string& face : s.sealed)
        list += (list.empty() ? "" : ", ") + face;
    return list.empty() ? "" : "; kept shut: " + list;
}

/// What the cook does at the beginning of a stage.
std::pair<std::string, std::string> to_do(const cure::StageResult& s, bool first,
                                          bool cover_before) {
    const std::string cold =
        "Keep it at " + base::show_temperature(s.temperature) + faces(s.stage) + ".";
    switch (s.stage.kind) {
    case Kind::cover:
        if (!cover_before || s.stage.fresh || s.stage.brine)
            return {first ? "Into the brine" : "Into fresh brine", cold};
        return {"Overhaul: turn, stir, back into the same brine", cold};
    case Kind::rub:
        return {
            first ? "Rub" : "Rub again",
            "Salt " + show_percent(s.stage.salt) + " of the raw weight" +
                (s.stage.nitrite > 0 ? ", sodium nitrite in it " + show_ppm(s.stage.nitrite) : "") +
                "; drain what drips. " + cold};
    case Kind::bag:
        return {
            "Rub and bag",
            "Salt " + show_percent(s.stage.salt) + " of the raw weight" +
                (s.stage.nitrite > 0 ? ", sodium nitrite in it " + show_ppm(s.stage.nitrite) : "") +
                "; close the bag, drip stays in. " + cold};
    case Kind::soak:
        return {"Soak in fresh water",
                (s.stage.water > 0 ? "Water " + base::show_mass(s.stage.water) + ". " : "") + cold};
    case Kind::rest:
        break;
    }
    return {"Take it out and let it rest", cold};
}

} // namespace

std::vector<CalendarEntry> plan_entries(const cure::Outcome& r) {
    std::vector<CalendarEntry> list;
    if (r.question.pump)
        list.push_back(
            {0, 0, "Pump",
             (r.first().weight > 0
                  ? base::show_mass(r.question.pump->share * r.first().weight) + " of brine, "
                  : std::string()) +
                 show_percent(r.question.pump->share) + " of the raw weight; weigh it.",
             true});
    bool cover = false;
    for (std::size_t k = 0; k < r.first().stages.size(); ++k) {
        const cure::StageResult& s = r.first().stages[k];
        auto [title, detail] = to_do(s, k == 0, cover);
        if (k == 0 && s.stage.kind == Kind::rest)
            title = "Let it rest";
        cover = cover || s.stage.kind == Kind::cover;
        list.push_back({s.from, s.to - s.from, title, detail, true});
        for (int n = 1; n <= s.stage.changes; ++n)
            list.push_back({s.from + n * (s.to - s.from) / (s.stage.changes + 1), 0,
                            "Change the water", "Fresh and cold.", true});
    }
    const std::string salt = "Mean salt " + show_percent(r.first().stages.back().end.mean_salt) +
                             " by the model. Cook and keep it as your local code says.";
    if (r.first().cured)
        list.push_back({r.first().stages.back().to, 0, "Ready for the next step", salt});
    else
        list.push_back({r.first().stages.back().to, 0, "The schedule ends: the core is not cured",
                        "By the model the middle is still grey. " + salt});
    if (r.first().cured)
        list.push_back(
            {*r.first().cured, 0, "The core is cured, by the model", "A prediction: cut to know."});
    if (r.first().last_good && *r.first().last_good <= r.first().stages.back().to)
        list.push_back({*r.first().last_good, 0, "Latest time out of the cure",
                        "After that " + r.first().last_good_reason + "."});
    std::ranges::stable_sort(list, {}, &CalendarEntry::time);
    const std::string dangers =
        boost::algorithm::join(r.findings.dangers(), "\n"); // a paragraph each
    if (!dangers.empty()) { // first of all, and again in whatever somebody has to do
        for (CalendarEntry& entry : list)
            if (entry.by_hand)
                entry.detail = "DANGER: " + dangers + '\n' + entry.detail;
        list.insert(list.begin(), {0, 0, "DANGER: read this before you begin", dangers, true});
    }
    return list;
}

} // namespace tidemark::output
