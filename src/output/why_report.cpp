// SPDX-License-Identifier: MIT
#include "output/why_report.hpp"

#include "output/best_view.hpp"
#include "output/json_parts.hpp"
#include "output/screen.hpp"
#include "output/slice_words.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

using inference::Slice;
using json_parts::Json;

/// Causes less likely than this are only named: the first that keeps to one screen.
constexpr double shown_from[] = {0.05, 0.08, 0.12, 0.2};
constexpr int most_named = 4, screen_lines = 24;
constexpr double named_from = 0.01;   ///< and than this only counted
constexpr double unusual = 0.05;      ///< shares as small are spoken of
constexpr double worth_a_look = 0.02; ///< gain in right names below which no look is proposed

/// The title of a cause; that all was as told says what the days were.
std::string title_of(const inference::Cause& c, const inference::Why& w) {
    if (!c.text.title.empty())
        return of_cure(c.text.title, w.told.question);
    const std::string grey = in_100(1 - w.told_cured) + " such pieces are still grey on that day";
    return w.told_cured < 0.5 ? "too few days: as told, " + grey
                              : "nothing went wrong, pieces differ: as told, " + grey;
}

double share(const inference::Cause& c, inference::Remedy r) {
    return c.by_remedy[static_cast<std::size_t>(r)];
}

/// Remedies and the causes that call for them.
void remedies(Screen& screen, const inference::Why& w, double from, bool more) {
    std::string heading = "NEXT", rest;
    int named = 0;
    for (const inference::RemedyShare& r : w.remedies) {
        if (r.probability < from)
            continue;
        const auto listed = [&](const inference::Cause& c) { return share(c, r.remedy) >= from; };
        std::string what = of_cure(text_of(r.remedy), w.told.question);
        if (r.remedy == inference::Remedy::longer)
            what += " than " + show_days_hours(w.still.seen.time) + ", as tidemark day tells";
        screen.paragraph(heading, (heading == "NEXT" ? "time " : "") + what + " (" +
                                      percent(r.probability) + " likely)" +
                                      (std::ranges::any_of(w.causes, listed) ? ":" : "."));
        for (const inference::Cause& c : w.causes)
            if (listed(c))
                screen.paragraph(padded(percent(share(c, r.remedy)), 8), title_of(c, w));
        heading = "OR";
    }
    for (const inference::Cause& c : w.causes)
        if (const double most = std::ranges::max(c.by_remedy);
            most < from && c.probability >= named_from && (more || ++named <= most_named))
            rest += (rest.empty() ? "" : ", ") + c.text.brief + ' ' + percent(c.probability);
    if (!rest.empty())
        screen.paragraph("", "Less likely: " + rest + '.');
}

bool fits(const inference::Why& w) {
    return w.fit >= inference::fits_from;
}

void fit(Screen& screen, const inference::Why& w) {
    if (w.paired)
        screen.paragraph("FIT", "no cause alone shows such a slice, so two together are weighed "
                                "as well.");
    else
        screen.paragraph("FIT", "of slices that the first cause leaves, " + in_100(w.fit) +
                                    " are as odd as this one: it fits.");
}

void look(Screen& screen, const inference::Why& w, bool more) {
    if (w.next.empty() || !(w.next.front().after > w.next.front().now + worth_a_look))
        return;
    const inference::NextLook& next = w.next.front();
    screen.paragraph("LOOK", text_of(next.look).how + ", and ask again with " +
                                 text_of(next.look).flag + '.' +
                                 (more ? " The first cause is right " + percent(next.now) +
                                             " of the time, after that " + percent(next.after) + '.'
                                       : ""));
}

/// What to check for each cause, and what it would have shown.
void details(Screen& screen, const inference::Why& w) {
    for (const inference::Cause& c : w.causes) {
        if (c.probability < named_from)
            continue;
        screen.paragraph(padded(percent(c.probability), 8), title_of(c, w) + '.');
        screen.paragraph("", "The slice then mostly shows: " + described(c.typical) +
                                 ". With this slice the core is cured: " + day_range(c.cured) +
                                 '.');
        if (c.text.look && !c.typical_look)
            continue;
        screen.paragraph("",
                         "Check: " + of_cure(c.text.check, w.told.question) + '.' +
                             (c.text.look ? " With this slice that finds " +
                                                found_text(*c.text.look, *c.typical_look) +
                                                ", and " + found_text(*c.text.look, *c.told_look) +
                                                " if all was as told."
                                          : ""));
    }
}

/// What a slice with grey in it comes to.
void grey(Screen& screen, const inference::Why& w, double from, bool more) {
    const Act act = act_on(w.still);
    if (!fits(w)) {
        screen.paragraph("CHECK", "what was told and seen: no cause, alone or with another, shows "
                                  "such a slice. The rest is then little worth.");
    }
    screen.paragraph(act.heading, of_cure(act.text, w.told.question));
    remedies(screen, w, from, more);
    screen.line();
    if (const std::string then = then_of(w.still); !then.empty())
        screen.paragraph("THEN", then);
    screen.paragraph(
        "SLICE",
        "on " + kept_day(w.seen.time) + ": " + described(w.seen) + "; as told, " +
            in_100(w.surprise) + (w.by_core ? " are as grey" : " are no pinker") +
            (w.surprise < unusual ? ": unusual, so something may have been otherwise." : "."));
    if (const std::string found = found_text(w.seen.found); !found.empty())
        screen.paragraph("FOUND", found);
    if (fits(w) && (more || w.paired))
        fit(screen, w);
    look(screen, w, more);
    if (more) {
        screen.line();
        details(screen, w);
    }
    screen.remarks(w.findings, more, "what to check for each cause");
}

constexpr struct {
    const char* key;
    std::optional<double> Slice::*reading;
} readings[] = {{"ring_top_mm", &Slice::top},         {"ring_bottom_mm", &Slice::bottom},
                {"ring_left_mm", &Slice::left},       {"ring_right_mm", &Slice::right},
                {"ring_mm", &Slice::every},           {"grey_mm", &Slice::core_height},
                {"grey_width_mm", &Slice::core_width}};

Json object_of(const Slice& s) {
    Json object = {{"pink_through", s.through}};
    for (const auto& n : readings) {
        if (s.*n.reading) {
            object[n.key] = 1000 * *(s.*n.reading);
        }
    }
    return object;
}

/// Found values under names that have their units.
Json object_of(const inference::Findings& found) {
    struct Member {
        const char* name;
        double unit, zero;
    };
    constexpr Member members[] = {{"thickness_mm", 1e-3, 0},       {"cooler_C", 1, 273.15},
                                  {"brine_salt_percent", 1e-2, 0}, {"brine_nitrite_ppm", 1e-6, 0},
                                  {"core_salt_percent", 1e-2, 0},  {"core_ph", 1, 0},
                                  {"mean_salt_percent", 1e-2, 0}};
    Json object = Json::object();
    for (std::size_t k = 0; k < found.size(); ++k) {
        if (found[k]) {
            object[members[k].name] = (*found[k] - members[k].zero) / members[k].unit;
        }
    }
    return object;
}

/// "Leave it until day 7: half are cured ..."
std::string advice(const inference::Still& s) {
    const Act act = act_on(s);
    return act.heading == "LEAVE IT"  ? "leave it " + act.text
           : act.heading == "TURN IT" ? "turn it " + act.text
                                      : act.text;
}

constexpr const char* remedy_keys[] = {"reach_every_face", "brine", "needles", "longer", "nothing"};

} // namespace

Json still_json(const inference::Still& s) {
    Json object{{"seen_day", json_parts::number(s.seen.time, json_parts::day)},
                {"seen", object_of(s.seen)},
                {"found", object_of(s.seen.found)},
                {"cured_day", json_parts::days(s.cured)},
                {"advice", advice(s)}};
    return object;
}

std::string why_report(const inference::Why& w, const Shown& shown) {
    const bool more = shown.more;
    Screen screen(shown);
    screen.dangers(w.findings);
    screen.line(w.told.title);
    if (w.seen.through) { // no cause of grey is to be sought
        screen.paragraph("SLICE", "on " + kept_day(w.seen.time) +
                                      ": pink through; as told, so are " + in_100(w.surprise) +
                                      " such pieces.");
        screen.paragraph(
            "",
            w.surprise < unusual
                ? "Nothing is grey, so no cause is weighed. So early a pink comes of a thinner "
                  "piece, a warmer cooler or more nitrite than told: measure these before the "
                  "next one."
                : "Nothing is grey, so no cause is weighed. tidemark learn keeps such a slice for "
                  "the days of the next one.");
        screen.line();
        screen.remarks(w.findings, more, "what it rests on");
        return screen.text();
    }
    std::string text; // the dangers and the title are in it already
    for (const double from : shown_from) {
        Screen whole = screen;
        grey(whole, w, from, more);
        text = whole.text();
        if (more || std::ranges::count(text, '\n') <= screen_lines)
            break;
    }
    return text;
}

std::string why_json(const inference::Why& w) {
    Json causes = Json::array(), remedies = Json::array(), next = Json::array();
    for (const inference::NextLook& n : w.next) {
        next.push_back({{"look", text_of(n.look).name},
                        {"how", text_of(n.look).how},
                        {"flag", text_of(n.look).flag},
                        {"first_is_right", n.now},
                        {"first_is_right_after", n.after}});
    }
    for (const inference::RemedyShare& r : w.remedies)
        remedies.push_back({{"remedy", remedy_keys[static_cast<std::size_t>(r.remedy)]},
                            {"what", of_cure(text_of(r.remedy), w.told.question)},
                            {"probability", r.probability}});
    for (const inference::Cause& c : w.causes) {
        Json look = nullptr, by_remedy = Json::object();
        if (c.typical_look) {
            inference::Findings typical, told;
            const auto k = static_cast<std::size_t>(*c.text.look);
            typical[k] = c.typical_look;
            told[k] = c.told_look;
            look = {{"as_a_rule", object_of(typical)}, {"if_as_told", object_of(told)}};
        }
        for (std::size_t r = 0; r < inference::remedy_count; ++r)
            if (c.by_remedy[r] > 0)
                by_remedy[remedy_keys[r]] = c.by_remedy[r];
        causes.push_back({{"cause", c.text.name},
                          {"title", title_of(c, w)},
                          {"prior", c.prior},
                          {"probability", c.probability},
                          {"by_remedy", by_remedy},
                          {"log_evidence", c.log_evidence},
                          {"as_a_rule", object_of(c.typical)},
                          {"check", of_cure(c.text.check, w.told.question)},
                          {"look", look},
                          {"cured_day", json_parts::days(c.cured)}});
    }
    Json object = json_parts::head("why");
    object.update(Json{{"title", w.told.title},
                       {"day", json_parts::number(w.seen.time, json_parts::day)},
                       {"seen", object_of(w.seen)},
                       {"found", object_of(w.seen.found)},
                       {"advice", advice(w.still)},
                       {"cured_day", json_parts::days(w.still.cured)}});
    object.update(json_parts::best(w.still.best, {}));
    object.update(Json{{"remedies", remedies},
                       {"chance_as_told", w.surprise},
                       {"cured_as_told", w.told_cured},
                       {"fit_of_first", w.fit},
                       {"two_together", w.paired},
                       {"causes", causes},
                       {"looks_left", next},
                       {"draws", w.draws},
                       {"parameters", json_parts::parameters(w.parameters)}});
    object.update(json_parts::findings(w.findings));
    return json_parts::text(object);
}

} // namespace tidemark::output
