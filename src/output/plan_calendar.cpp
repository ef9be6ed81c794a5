// SPDX-License-Identifier: MIT
#include "output/plan_calendar.hpp"

#include "base/calendar.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/schedule_advice.hpp"
#include "cure/stage_words.hpp"
#include "output/best_view.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string/join.hpp>

#include <algorithm>

namespace tidemark::output {

namespace {

using Kind = cure::Stage::Kind;

constexpr const char* after = "Cook and keep it as your local code says.";

std::string faces(const cure::Stage& s) {
    std::string list;
    for (const std::string& face : s.sealed)
        list += (list.empty() ? "" : ", ") + face;
    return list.empty() ? "" : "; sealed: " + list;
}

} // namespace

std::string dry_load(const cure::Stage& s, const cure::Brine& premix, double weight, int pieces) {
    const std::string nitrite =
        s.nitrite > 0 ? "; sodium nitrite " + show_ppm(s.nitrite) + " of the raw weight" : "";
    const auto load = cure::weighed_load(s, premix);
    if (!load)
        return "Salt " + show_percent(s.salt) + " of the raw weight" + nitrite;
    const double of = weight > 0 ? weight : 1;
    std::string text;
    const auto add = [&](double share, const std::string& what) {
        if (share > 0)
            text += (text.empty() ? "" : " and ") + base::show_mass(share * of) + " of " + what;
    };
    add(load->salt, "salt");
    add(load->premix, "premix (" + show_percent(premix.premix_strength) + " nitrite)");
    return text +
           (!(weight > 0) ? " on each kg of meat"
            : pieces > 1  ? " on each piece"
                          : "") +
           nitrite;
}

namespace {

/// What the cook does at the beginning of a stage; `before` is the one before it.
std::pair<std::string, std::string> to_do(const cure::StageResult& s,
                                          const cure::StageResult* before, bool cover_before,
                                          const std::string& load) {
    switch (s.stage.kind) {
    case Kind::cover:
        if (!cover_before || s.stage.fresh || s.stage.brine)
            return {before ? "Into fresh brine" : "Into the brine", ""};
        return {"Turn it, stir, back into the same brine", ""};
    case Kind::rub:
        return {before ? "Rub again" : "Rub", load + "; drain what drips."};
    case Kind::bag:
        return {"Rub and bag", load + "; close the bag, drip stays in."};
    case Kind::soak:
        return {"Soak in fresh water",
                s.stage.water > 0 ? "Water " + base::show_mass(s.stage.water) + "." : ""};
    case Kind::rest:
        break;
    }
    return {before && before->stage.kind != Kind::rest ? "Take it out and let it rest"
                                                       : "Let it rest",
            ""};
}

/// What the cook does at the end of the last stage.
std::string last_step(Kind kind, bool cured) {
    if (!cured)
        return "The schedule ends: the core is not cured";
    switch (kind) {
    case Kind::cover:
        return "Take it out of the brine";
    case Kind::rub:
        return "Brush off what is left";
    case Kind::bag:
        return "Take it out of the bag";
    case Kind::soak:
        return "Take it out of the water";
    case Kind::rest:
        break;
    }
    return "Ready for the next step";
}

constexpr double hour = 3600;

double whole_hours(double t, Rounding rounding) {
    return base::rounded(t, hour, rounding);
}

/// The end of a stage that the answer advises [s]; none where the cook has set it, or where it is
/// as good as the schedule has it.
std::optional<double> advised_end(const inference::Answer& a, std::size_t stage) {
    if (a.ranges && a.ranges->best.best)
        return a.ranges->best.best->time;
    if (!a.chance || a.chance->stage != stage || !a.chance->best.likely() ||
        a.chance->good_as_planned())
        return {};
    return a.chance->best.best->time;
}

/// The end of a piece's own in a bucket whose last stage has no length [s]: the day advised for it;
/// none where the schedule's is as good, or where it goes by its `out`.
std::optional<double> own_end(const inference::Answer& a, std::size_t piece) {
    const cure::Stage& last = a.outcome.question.stages.back();
    if (piece >= a.chances.size() || last.duration || a.outcome.pieces[piece].piece.out)
        return {};
    const inference::BestDay& b = a.chances[piece];
    const bool better =
        last.open() || (last.doses() && b.likely() && b.as_set && b.as_set->right < b.confidence);
    return better && b.best ? std::optional(b.best->time) : std::nullopt;
}

/// Whether the pieces of a bucket come out one by one.
bool apart(const inference::Answer& a) {
    bool some = a.outcome.question.stages.back().open();
    for (std::size_t k = 0; k < a.chances.size(); ++k)
        some = some || own_end(a, k);
    return some;
}

/// When the last piece of a bucket whose pieces come out one by one does [s]; `planned`: the end of
/// those that have none of their own.
std::optional<double> last_out(const inference::Answer& a, double planned) {
    std::optional<double> last;
    for (std::size_t k = 0; k < a.chances.size(); ++k) {
        const bool waits = a.outcome.question.stages.back().open() || a.outcome.pieces[k].piece.out;
        if (const auto own = own_end(a, k); own || !waits)
            last = std::max(last.value_or(0), own.value_or(planned));
    }
    return apart(a) ? last : std::nullopt;
}

/// Turning by hand in a stage [from begin to end, s], as one entry: a bag, or a piece that lies.
/// Every second day, from two days after the beginning to a day before the end (common practice, no
/// source). The answer counts a face that was told shut as shut all along. None where the schedule
/// itself turns the piece, and of a rind, which stays where it is.
std::optional<CalendarEntry> turning(const cure::Outcome& o, const cure::Stage& s, double begin,
                                     double end, const std::string& key) {
    constexpr double every = 48 * hour, before_end = 24 * hour;
    const auto& all = o.question.stages;
    const auto lies = [&](const cure::PieceOutcome& p) {
        const auto shut = [&](const char* face) {
            return std::ranges::count(p.piece.dimensions.sealed, face) > 0 ||
                   std::ranges::count(s.sealed, face) > 0;
        };
        return shut("top") != shut("bottom");
    };
    const bool bag = s.kind == Kind::bag, several = o.pieces.size() > 1,
               by_schedule =
                   std::ranges::any_of(all,
                                       [&](const cure::Stage&other) {
                                           return other.doses() && other.sealed != s.sealed;
                                       }),
               lying = s.doses() && !o.question.base.rind && std::ranges::any_of(o.pieces, lies);
    const int times = static_cast<int>((end - begin - before_end) / every);
    if (by_schedule || !(bag || lying) || times < 1)
        return {};
    CalendarEntry entry{begin + every,
                        0,
                        bag       ? "Turn the bag"
                        : several ? "Turn the pieces over"
                                  : "Turn it over",
                        times > 1 ? "Every second day, " + std::to_string(times) + " times." : "",
                        true,
                        key + " turn"};
    entry.aside = bag ? "So that the drip reaches every face."
                      : "The days told count a face that is shut as shut all along.";
    entry.times = times;
    return entry;
}

/// How many are right at the end, as a sentence; `moved`: the end is the day advised. Where the
/// cook has set another, which would be surer.
std::string how_sure(const inference::Answer& a, bool moved) {
    const auto right = [](const inference::DayChance& c) {
        return in_100(c.right) + " pieces like this are then right";
    };
    if (a.ranges)
        return a.ranges->best.best ? right(*a.ranges->best.best) + ". " : "";
    if (!a.chances.empty() && a.chances.front().as_set) {
        const auto least = std::ranges::min_element(
            a.chances, {}, [](const inference::BestDay& b) { return b.as_set->right; });
        return "Of the least sure piece " + in_100(least->as_set->right) + " are then right. ";
    }
    if (!a.chance)
        return "";
    const inference::BestDay& best = a.chance->best;
    if (moved)
        return right(*best.best) + ". ";
    const bool surer = best.likely() && !a.chance->good_as_planned();
    return right(a.chance->as_planned) +
           (surer ? "; surer: stage " + std::to_string(a.chance->stage + 1) + " until " +
                        kept_day(best.best->time) + ", " + in_100(best.best->right)
                  : std::string()) +
           ". ";
}

/// What the needles' own brine is made of, as a sentence.
std::string needles_recipe(const cure::Outcome& o) {
    if (!o.needles || !o.needles->water)
        return "";
    const cure::Brine& b = *o.needles;
    std::string text = std::string(" Its brine") +
                       (o.first().piece.pieces > 1 ? ", for all pieces: " : ": ") +
                       base::show_mass(*b.water) + " of water";
    if (b.salt_added)
        text += ", " + base::show_mass(*b.salt_added) + " of salt";
    if (b.premix)
        text += ", " + base::show_mass(*b.premix) + " of premix (" +
                show_percent(b.premix_strength) + " nitrite)";
    return text + "; make a little more.";
}

/// When each piece of a bucket comes out.
void take_out(const inference::Answer& a, std::vector<CalendarEntry>& list) {
    for (std::size_t k = 0; k < a.outcome.pieces.size(); ++k) {
        const cure::PieceOutcome& p = a.outcome.pieces[k];
        const bool open = a.outcome.question.stages.back().open();
        const std::optional<double> own = own_end(a, k);
        const std::optional<double> t = p.piece.out ? p.piece.out
                                        : own       ? own
                                        : open      ? p.cured
                                                    : std::optional(p.stages.back().to);
        if (!t || (!apart(a) && !p.piece.out))
            continue;
        const bool drawn = k < a.chances.size() && a.chances[k].best;
        const bool set = drawn && a.chances[k].as_set && !own;
        list.push_back(
            {whole_hours(*t, Rounding::up), 0, "Take out " + p.name, "", true,
             "piece " + std::to_string(k + 1), "",
             (drawn ? in_100(set ? a.chances[k].as_set->right : a.chances[k].best->right) +
                          " pieces like this are then right. "
                    : std::string()) +
                 after});
    }
}

} // namespace

std::vector<CalendarEntry> plan_entries(const inference::Answer& a) {
    const cure::Outcome& r = a.outcome;
    const cure::PieceOutcome& p = r.first();
    const bool several = r.pieces.size() > 1;
    std::vector<CalendarEntry> list;
    if (r.question.pump)
        list.push_back(
            {0, 0, "Pump",
             (p.weight > 0 ? base::show_mass(r.question.pump->share * p.weight) + " of brine, "
                           : std::string()) +
                 show_percent(r.question.pump->share) + " of the raw weight; weigh it." +
                 needles_recipe(r),
             true, "pump"});
    bool cover = false, moved = false;
    double begin = 0, cure_ends = 0;
    for (std::size_t k = 0; k < p.stages.size(); ++k) {
        const cure::StageResult& s = p.stages[k];
        double end = begin + s.to - s.from;
        if (!s.stage.duration) {
            const auto advised = !several                   ? advised_end(a, k)
                                 : k + 1 == p.stages.size() ? last_out(a, end)
                                                            : std::nullopt;
            moved = moved || advised;
            end = begin + std::max(hour, whole_hours(advised.value_or(end) - begin, Rounding::up));
        }
        const std::string load = s.stage.dry() ? dry_load(s.stage, r.question.base.brine,
                                                          several ? 0 : p.weight, p.piece.pieces)
                                               : std::string();
        const auto [title, detail] = to_do(s, k == 0 ? nullptr : &p.stages[k - 1], cover, load);
        const std::string key = "stage " + std::to_string(k + 1);
        list.push_back(
            {begin, end - begin, title, detail, true, key,
             "Keep it at " + base::show_temperature(s.temperature) + faces(s.stage) + "."});
        for (int n = 1; n <= s.stage.changes; ++n)
            list.push_back({begin + n * (end - begin) / (s.stage.changes + 1), 0,
                            "Change the water", "Fresh and cold.", true, key + " water"});
        if (const auto turn = turning(r, s.stage, begin, end, key))
            list.push_back(*turn);
        cover = cover || s.stage.kind == Kind::cover;
        if (s.stage.doses())
            cure_ends = end;
        begin = end;
    }
    const bool endless = r.question.stages.back().open();
    if (several)
        take_out(a, list);
    if (!several || !apart(a)) {
        const std::string salt =
            moved ? ""
                  : "Mean salt " + show_percent(p.stages.back().end.mean_salt) + " by the model. ";
        list.push_back({begin, 0, last_step(p.stages.back().stage.kind, p.cured.has_value()),
                        p.cured ? "" : "With typical values the middle is still grey.", true, "end",
                        "", how_sure(a, moved) + salt + after});
        // A look helps before the end and not long before it, with salt still to come.
        constexpr double worth_a_look = 12 * hour, late_enough = 0.25;
        // It can wait for the hour of the day at which the cook began.
        const double look = base::rounded(p.cured.value_or(0), 24 * hour, Rounding::up);
        const bool spare = !several || p.piece.pieces > 1;
        if (spare && p.cured && look + worth_a_look < begin && look > late_enough * cure_ends)
            list.push_back({look, 0,
                            several ? "Cut one of " + p.name + " to check"
                                    : "Check: cut one of several, or take a plug",
                            "", false, "check", "",
                            "With typical values the core is cured now. Grey in the middle: leave "
                            "the others until the day advised."});
        std::optional<double> latest = p.last_good;
        if (cure::too_much_at_once(p))
            latest.reset();
        if (a.ranges)
            latest = a.ranges->best.window ? std::optional(a.ranges->best.window->second)
                                           : std::optional<double>();
        if (latest && *latest >= (endless ? begin : 0) && (endless || *latest <= cure_ends))
            list.push_back({whole_hours(*latest, Rounding::down), 0, "Latest time out of the cure",
                            endless ? "The last day on which it is as sure."
                                    : "After that " + p.last_good_reason + ".",
                            false, "latest"});
    }
    std::ranges::stable_sort(list, {}, &CalendarEntry::time);
    const std::string dangers =
        boost::algorithm::join(r.findings.dangers(), "\n"); // a paragraph each
    if (!dangers.empty()) { // first of all, and again in whatever somebody has to do
        for (CalendarEntry& entry : list)
            if (entry.by_hand)
                entry.detail = "DANGER: " + dangers + '\n' + entry.detail;
        list.insert(list.begin(),
                    {0, 0, "DANGER: read this before you begin", dangers, true, "danger"});
    }
    return list;
}

std::string change_dates(const inference::Answer& a) {
    const auto& change = a.changes.best;
    const cure::Question& q = a.outcome.question;
    if (!change || !q.start)
        return "";
    const std::vector<CalendarEntry> entries = plan_entries(a);
    const bool asks_the_same = change->command.empty() && a.outcome.pieces.size() == 1;
    const std::string key = "stage " + std::to_string(inference::last_dosing(q) + 1);
    const auto stage = std::ranges::find(entries, key, &CalendarEntry::key);
    if (!asks_the_same || stage == entries.end())
        return "The dates told here are without it; run its line for those with it.";
    const double later = whole_hours(change->day, Rounding::up) - stage->time - stage->length;
    const auto moved = [&](double seconds) {
        return base::show_moment(base::minute_after(*q.start, seconds));
    };
    if (q.ready && q.asked && base::minute_after(*q.start, -later) < *q.asked)
        return "For that the date wanted is too near: it begins on " + moved(-later) + ".";
    return q.ready ? "To have it on the date wanted, begin then on " + moved(-later) + "."
                   : "It is then ready on " + moved(last_step_at(entries) + later) + ".";
}

double last_step_at(const std::vector<CalendarEntry>& entries) {
    double last = 0;
    for (const CalendarEntry& e : entries)
        last = e.by_hand ? std::max(last, e.time) : last;
    return last;
}

} // namespace tidemark::output
