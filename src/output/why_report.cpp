// SPDX-License-Identifier: MIT
#include "output/why_report.hpp"

#include "base/quantity.hpp"
#include "output/json_parts.hpp"
#include "output/screen.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>
#include <cmath>
#include <set>

namespace tidemark::output {
namespace {

using inference::Slice;
using json_parts::Json;

constexpr double shown_from = 0.05;   ///< causes less likely than this are only named
constexpr double named_from = 0.01;   ///< and than this only counted
constexpr double worth_a_look = 0.02; ///< gain in right names below which no look is proposed

struct Named {
    const char* name;
    const char* key;
    std::optional<double> Slice::*reading;
};
constexpr Named readings[] = {
    {"top", "ring_top_mm", &Slice::top},          {"bottom", "ring_bottom_mm", &Slice::bottom},
    {"left", "ring_left_mm", &Slice::left},       {"right", "ring_right_mm", &Slice::right},
    {"every face", "ring_mm", &Slice::every},     {"high", "grey_mm", &Slice::core_height},
    {"wide", "grey_width_mm", &Slice::core_width}};

std::string millimetres(double metres) {
    return fixed(1000 * metres, 0) + " mm";
}

std::string percent(double share) {
    return share < 0.005 ? "< 1 %" : share > 0.995 ? "> 99 %" : fixed(100 * share, 0) + " %";
}

/// "ring top 12 mm, bottom 3 mm; grey core 20 mm high", or what is alike all round said once.
std::string described(const Slice& s) {
    if (s.through) {
        return "pink through";
    }
    std::string rings, core;
    std::set<std::string> depths, sizes;
    for (const Named& n : readings) {
        if (!(s.*n.reading)) {
            continue;
        }
        const std::string name = n.name, size = millimetres(*(s.*n.reading));
        if (name == "high" || name == "wide") {
            core += (core.empty() ? "grey core " : ", ") + size + ' ' + name;
            sizes.insert(size);
        } else {
            rings += (rings.empty() ? "ring " : ", ") + name + ' ' + size;
            depths.insert(size);
        }
    }
    if (s.top && s.bottom && s.left && s.right && depths.size() == 1) {
        rings = "ring " + *depths.begin() + " all round";
    }
    if (s.core_height && s.core_width && sizes.size() == 1) {
        core = "grey core " + *sizes.begin() + " across";
    } else if (s.core_height && s.core_width && millimetres(*s.core_width) == "0 mm") {
        core = "grey core " + millimetres(*s.core_height) +
               " high, all of it above or below the middle";
    }
    return rings + (rings.empty() || core.empty() ? "" : "; ") + core;
}

std::string days(double seconds) {
    return fixed(std::ceil(seconds / 8640 - 1e-9) / 10, 1);
}

std::string longer(const inference::More& m) {
    if (std::isinf(m.half)) {
        return "no time in this brine would have brought the cure to the core of such a piece";
    }
    return "half of such pieces would have wanted " + days(m.half) + " days more, " +
           (std::isinf(m.late) ? fixed(100 * m.never, 0) + " in 100 never get there"
                               : "95 in 100 no more than " + days(m.late));
}

Json object_of(const Slice& s) {
    Json object = {{"pink_through", s.through}};
    for (const Named& n : readings) {
        if (s.*n.reading) {
            object[n.key] = 1000 * *(s.*n.reading);
        }
    }
    return object;
}

/// "78 mm", "4.0 C (39 F)", "3.50 %", "80 ppm", "6.2"
std::string found_text(inference::Look look, double found) {
    using enum inference::Look;
    switch (look) {
    case thickness:
        return base::show_length(found);
    case cooler:
        return base::show_temperature(found);
    case brine_nitrite:
        return show_ppm(found);
    case ph:
        return fixed(found, 1);
    default:
        return show_percent(found);
    }
}

/// "brine-salt" in words
std::string name_of(inference::Look look) {
    return look == inference::Look::ph ? "pH"
                                       : boost::replace_all_copy(text_of(look).name, "-", " ");
}

/// "thickness 78 mm, cooler 1.0 C (34 F)"; empty: nothing was looked at
std::string found_text(const inference::Findings& found) {
    std::string text;
    for (const inference::Look look : inference::looks) {
        if (const auto& value = found[static_cast<std::size_t>(look)]) {
            text += (text.empty() ? "" : ", ") + name_of(look) + ' ' + found_text(look, *value);
        }
    }
    return text;
}

/// Found values under names that have their units.
Json object_of(const inference::Findings& found) {
    struct Member {
        const char* name;
        double unit, zero;
    };
    constexpr Member members[] = {{"thickness_mm", 1e-3, 0},       {"cooler_C", 1, 273.15},
                                  {"brine_salt_percent", 1e-2, 0}, {"brine_nitrite_ppm", 1e-6, 0},
                                  {"core_salt_percent", 1e-2, 0},  {"core_ph", 1, 0}};
    Json object = Json::object();
    for (std::size_t k = 0; k < found.size(); ++k) {
        if (found[k]) {
            object[members[k].name] = (*found[k] - members[k].zero) / members[k].unit;
        }
    }
    return object;
}

/// What to check for a cause, and what that finds if it is the cause and if not; nothing once its
/// look has been taken.
std::string next_text(const inference::Cause& c) {
    if (c.text.look && !c.typical_look) {
        return "";
    }
    return " Next: " + c.text.check + '.' +
           (c.text.look
                ? " Beside this slice that finds " + found_text(*c.text.look, *c.typical_look) +
                      ", and " + found_text(*c.text.look, *c.told_look) + " if all was as told."
                : "");
}

Json days_of(double seconds) {
    return std::isinf(seconds) ? Json(nullptr) : Json(seconds / 86400);
}

} // namespace

std::string why_report(const inference::Why& w) {
    Screen screen;
    screen.dangers(w.findings);
    screen.line(w.told.title);
    screen.paragraph("SLICE", "on " + show_day(w.seen.time) + ": " + described(w.seen));
    if (const std::string found = found_text(w.seen.found); !found.empty()) {
        screen.paragraph("FOUND", found);
    }
    screen.line();
    const std::string what = w.seen.through ? "a piece is pink through by then"
                             : w.by_core    ? "a grey core is this big or bigger"
                                            : "the pink goes no deeper than this";
    screen.paragraph(
        "CHANCE",
        "if all was as told, " + what + " in " + percent(w.surprise) + " of such pieces: " +
            (w.surprise < 0.05 ? "something was likely otherwise." : "nothing out of the common."));
    screen.line();
    if (w.seen.through) { // no cause of grey is to be sought
        screen.paragraph(
            "",
            w.surprise < 0.05
                ? "Nothing is grey, so no cause is weighed. So early a pink comes of a thinner "
                  "piece, "
                  "a warmer cooler or more nitrite than told: measure these before the next one."
                : "Nothing is grey, so no cause is weighed. tidemark learn keeps such a slice for "
                  "the days of the next one.");
        screen.line();
        screen.remarks(w.findings);
        return screen.text();
    }
    std::string rest;
    for (const inference::Group& g : w.groups) {
        const auto shown = std::ranges::count_if(
            g.causes, [&](std::size_t k) { return w.causes[k].probability >= shown_from; });
        if (shown > 1) {
            screen.paragraph(percent(g.probability),
                             "one of these, which this slice can hardly tell apart:");
        }
        for (const std::size_t k : g.causes) {
            const inference::Cause& c = w.causes[k];
            if (c.probability < shown_from) {
                if (c.probability >= named_from) {
                    rest += c.text.name + ' ' + percent(c.probability) + ", ";
                }
                continue;
            }
            screen.paragraph((shown > 1 ? "  " : "") + percent(c.probability),
                             c.text.name + ": " + c.text.title + '.');
            screen.paragraph("", "As a rule: " + described(c.typical) + '.' + next_text(c));
        }
    }
    screen.paragraph("", rest + (rest.empty() ? "All others: below " : "all others below ") +
                             percent(rest.empty() ? shown_from : named_from) + " each.");
    screen.line();
    if (!w.next.empty() && w.next.front().after > w.next.front().now + worth_a_look) {
        const inference::NextLook& next = w.next.front();
        screen.paragraph("LOOK", "next, for it tells most: " + text_of(next.look).how +
                                     ", and give it as " + text_of(next.look).flag +
                                     ". The first cause named is right " + percent(next.now) +
                                     " of the time, and " + percent(next.after) +
                                     " after this look.");
        screen.line();
    }
    for (std::size_t k = 0; k < std::min<std::size_t>(w.twins.size(), 3); ++k) {
        const inference::Twins& t = w.twins[k];
        screen.paragraph(k == 0 ? "ALIKE" : "",
                         w.causes[t.a].text.name + " and " + w.causes[t.b].text.name +
                             ": a guess is right " + percent(t.told) + " of the time; " +
                             (t.told_in_full >= inference::tellable
                                  ? "the ring on each face and the size of the core would tell."
                                  : "no ring or core tells them: make both checks."));
    }
    if (!w.twins.empty()) {
        screen.line();
    }
    for (const inference::Cause& c : w.causes) {
        if (c.text.name == "as-told" && !w.seen.through && c.probability >= shown_from) {
            screen.paragraph("LONGER", "if all was as told, " + longer(c.more) + ".");
        }
    }
    const inference::Cause& first = w.causes.front();
    if (first.text.name != "as-told" && !w.seen.through) {
        screen.paragraph("LONGER", "if " + first.text.title + ", " + longer(first.more) + ".");
    }
    screen.remarks(w.findings);
    return screen.text();
}

std::string why_json(const inference::Why& w) {
    Json causes = Json::array(), groups = Json::array(), twins = Json::array(),
         next = Json::array();
    for (const inference::NextLook& n : w.next) {
        next.push_back({{"look", text_of(n.look).name},
                        {"how", text_of(n.look).how},
                        {"flag", text_of(n.look).flag},
                        {"first_is_right", n.now},
                        {"first_is_right_after", n.after}});
    }
    for (const inference::Cause& c : w.causes) {
        Json look = nullptr;
        if (c.typical_look) {
            inference::Findings typical, told;
            const auto k = static_cast<std::size_t>(*c.text.look);
            typical[k] = c.typical_look;
            told[k] = c.told_look;
            look = {{"as_a_rule", object_of(typical)}, {"if_as_told", object_of(told)}};
        }
        causes.push_back({{"cause", c.text.name},
                          {"title", c.text.title},
                          {"prior", c.prior},
                          {"probability", c.probability},
                          {"log_evidence", c.log_evidence},
                          {"as_a_rule", object_of(c.typical)},
                          {"check", c.text.check},
                          {"look", look},
                          {"more_days_half", days_of(c.more.half)},
                          {"more_days_late", days_of(c.more.late)},
                          {"share_never", c.more.never}});
    }
    for (const inference::Group& g : w.groups) {
        Json names = Json::array();
        for (const std::size_t k : g.causes) {
            names.push_back(w.causes[k].text.name);
        }
        groups.push_back({{"causes", names}, {"probability", g.probability}});
    }
    for (const inference::Twins& t : w.twins) {
        twins.push_back({{"causes", {w.causes[t.a].text.name, w.causes[t.b].text.name}},
                         {"right_guesses", t.told},
                         {"right_guesses_with_all_readings", t.told_in_full}});
    }
    Json object = json_parts::head("why");
    object.update(Json{{"title", w.told.title},
                       {"day", w.seen.time / 86400},
                       {"seen", object_of(w.seen)},
                       {"found", object_of(w.seen.found)},
                       {"chance_as_told", w.surprise},
                       {"too_few_days", w.too_few_days},
                       {"causes", causes},
                       {"groups", groups},
                       {"alike", twins},
                       {"looks_left", next},
                       {"draws", w.draws},
                       {"parameters", json_parts::parameters(w.parameters)}});
    object.update(json_parts::findings(w.findings));
    return json_parts::text(object);
}

} // namespace tidemark::output
