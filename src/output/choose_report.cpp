// SPDX-License-Identifier: MIT
#include "output/choose_report.hpp"

#include "base/calendar.hpp"
#include "base/quantity.hpp"
#include "output/best_view.hpp"
#include "output/json_parts.hpp"

#include <algorithm>

namespace tidemark::output {
namespace {

using namespace json_parts;
using Moment = std::optional<std::chrono::local_seconds>;

std::string days(double seconds) {
    return base::significant(seconds / 86400, 4);
}

/// "19 (15-24)".
std::string out_on(const inference::Way& w) {
    if (!w.chance || !w.chance->best.best)
        return "-";
    const inference::BestDay& b = w.chance->best;
    return days(b.best->time) +
           (b.window ? " (" + days(b.window->first) + "-" + days(b.window->second) + ")" : "");
}

void table(Screen& screen, const cure::Choice& c, const inference::Ways& ways) {
    std::vector<std::vector<std::string>> rows;
    for (std::size_t k = 0; k < c.methods.size(); ++k) {
        const cure::Outcome& r = c.methods[k].result;
        const inference::Way& w = ways.list[k];
        const double out = w.chance && w.chance->best.best ? w.chance->best.best->time : 0;
        rows.push_back(
            {c.methods[k].name, out_on(w),
             w.chance && w.chance->best.best ? fixed(100 * w.chance->best.best->right, 0) : "-",
             w.ready && *w.ready <= c.question.base.horizon
                 ? days(base::rounded(std::max(*w.ready, out), 8640, Rounding::up))
                 : "-",
             fixed(100 * r.first().stages.back().end.mean_salt, 2),
             r.has_nitrite ? fixed(1e6 * r.ingoing.whole_system.value_or(0), 0) + " of " +
                                 (r.ingoing.limit ? fixed(1e6 * *r.ingoing.limit, 0) : "-")
                           : "-",
             std::to_string(r.hands)});
    }
    screen.table({{"", "", 18, ""},
                  {"", "take out, day", 14, "take out on day"},
                  {"", "right in 100", 13, "right in 100"},
                  {"", "ready", 7, "ready on day"},
                  {"", "salt %", 8, "salt %"},
                  {"", "ppm of limit", 13, "ppm of limit"},
                  {"", "steps", 6, "steps"}},
                 rows);
}

/// The way to take and when, or why none.
void choice(Screen& screen, const cure::Choice& c, const inference::Ways& ways,
            const std::string& command, Moment start, Moment ready_by) {
    if (!ways.best) {
        screen.paragraph("CHOICE", "None of the ways can be recommended for this piece as it "
                                   "stands. " +
                                       ways.reason + ".");
        return;
    }
    const inference::Way& w = ways.list[*ways.best];
    std::string text = c.methods[*ways.best].name;
    if (w.chance && w.chance->best.best) {
        const inference::BestDay& b = w.chance->best;
        if (!b.sure())
            text += ", the surest of them";
        text += ", out of the cure on " + kept_day(b.best->time) + ": " + right_and_not(*b.best) +
                window_of(b);
        if (c.methods[*ways.best].result.findings.has("long-cure"))
            text += " But that is longer than cold alone keeps it safe, see below.";
    } else {
        text += ": typically ready on " + (w.ready ? show_day(*w.ready, Rounding::up) : "no day") +
                ". These days do not include variation between pieces.";
    }
    if (w.ready && start)
        text += " Begun " + base::show_moment(*start) + " it is ready " +
                base::show_moment(base::minute_after(*start, *w.ready)) + ".";
    else if (w.ready && ready_by)
        text += " To be ready " + base::show_moment(*ready_by) + " begin by " +
                base::show_moment(base::minute_after(*ready_by, -*w.ready)) + ".";
    screen.paragraph("CHOICE", text);
    screen.command(command);
}

/// Its salt and nitrite as salt and premix on the scales.
std::string weighed(const cure::Outcome& o, const cure::Brine& premix) {
    const double put = o.nitrite_used / premix.premix_strength,
                 brings = put * (1 - premix.premix_strength - premix.premix_nitrate);
    if (!(put > 0) || brings > o.salt_used)
        return base::show_mass(o.salt_used) + " of salt";
    return base::show_mass(o.salt_used - brings) + " of salt and " + base::show_mass(put) +
           " of premix (" + show_percent(premix.premix_strength) + " nitrite)";
}

/// What is made up for each way.
void details(Screen& screen, const cure::Choice& c) {
    for (std::size_t k = 0; k < c.methods.size(); ++k) {
        const cure::Method& m = c.methods[k];
        std::string text = m.name + ": " + m.made;
        if (m.result.salt_used > 0)
            text += "; weigh " + weighed(m.result, c.question.base.brine);
        screen.paragraph(k == 0 ? "MADE" : "", text + ".");
    }
}

} // namespace

std::string choose_report(const cure::Choice& c, const inference::Ways& ways,
                          const std::string& command, const Shown& shown, Moment start,
                          Moment ready_by) {
    const bool more = shown.more;
    Screen screen(shown);
    const judge::Findings findings = more ? all_findings(c) : findings_of(c, ways.best);
    screen.dangers(findings);
    const cure::Piece& piece = c.question.base.piece;
    screen.line(cure::cut_name(piece) + ", " + piece.shape +
                (piece.dimensions.thickness > 0
                     ? ", " + base::show_length(piece.dimensions.thickness) + " thick"
                     : "") +
                ", at " + base::show_temperature(c.question.base.temperature));
    screen.line();
    choice(screen, c, ways, command, start, ready_by);
    screen.line();
    table(screen, c, ways);
    for (std::size_t k = 0; k < c.methods.size(); ++k)
        if (!ways.list[k].ruled_out.empty())
            screen.paragraph("OUT", c.methods[k].name + ": " + ways.list[k].ruled_out + ".");
    if (more) {
        details(screen, c);
        if (c.thickest)
            screen.paragraph("LIMIT",
                             "above " + base::show_length(*c.thickest) +
                                 " thick, all else in proportion, this brine alone cannot do it: " +
                                 c.thickest_reason + ".");
        if (c.tried) {
            const std::string end = base::show_length(c.tried->thickness);
            const std::string beyond =
                c.tried->asked ? "" : ", for no such piece of this shape can be made";
            screen.paragraph("LIMIT",
                             c.tried->cures
                                 ? "this brine alone can do it up to " + end +
                                       " thick, all else in proportion: no thicker one was tried" +
                                       beyond + "."
                                 : "this brine alone cannot do it, nor thinner down to " + end +
                                       ", all else in proportion: " + c.thickest_reason +
                                       "; no thinner one was tried" + beyond + ".");
        }
        if (c.thiele_thickness > 0)
            screen.paragraph(c.thickest || c.tried ? "" : "LIMIT",
                             "loss of nitrite outruns its diffusion (Thiele modulus 2) from " +
                                 base::show_length(c.thiele_thickness) + " of sheet.");
    }
    screen.remarks(findings, more);
    return screen.text();
}

std::string choose_json(const cure::Choice& c, const inference::Ways& ways,
                        const std::string& command) {
    Json methods = Json::array();
    for (std::size_t k = 0; k < c.methods.size(); ++k) {
        const cure::Method& m = c.methods[k];
        const cure::Outcome& r = m.result;
        const cure::Reading& e = r.first().stages.back().end;
        const inference::Way& w = ways.list[k];
        methods.push_back({{"method", m.name},
                           {"made", m.made},
                           {"schedule", w.schedule},
                           {"out_of_cure_from_day", number(m.pull, day)},
                           {"out_of_cure_to_day", number(m.latest, day)},
                           {"ready_day", number(w.ready, day)},
                           {"mean_salt_percent", 100 * e.mean_salt},
                           {"core_salt_percent", 100 * e.core_salt},
                           {"core_arrived_ppm", 1e6 * e.core_arrived},
                           {"unevenness_percent", 100 * e.even()},
                           {"ingoing_nitrite",
                            {{"whole_system_ppm", number(r.ingoing.whole_system, ppm)},
                             {"limit_ppm", number(r.ingoing.limit, ppm)}}},
                           {"salt_used_kg", number(r.salt_used)},
                           {"nitrite_used_g", number(r.nitrite_used, 1e-3)},
                           {"hands", r.hands},
                           {"mass_balance_error", r.mass_balance_error},
                           {"ruled_out", w.ruled_out.empty() ? Json(nullptr) : Json(w.ruled_out)},
                           {"dangers", r.findings.dangers()},
                           {"warnings", r.findings.warnings()}});
        if (w.chance)
            methods.back().update(best(w.chance->best, {}));
    }
    Json object = head("choose");
    object.update(
        Json{{"choice", ways.best ? Json(c.methods[*ways.best].name) : Json(nullptr)},
             {"choice_command", ways.best ? Json(command) : Json(nullptr)},
             {"no_choice_because", ways.best ? Json(nullptr) : Json(ways.reason)},
             {"methods", methods},
             {"thickest_by_immersion_mm", c.thickest ? Json(1000 * *c.thickest) : Json(nullptr)},
             {"thickest_reason", c.thickest_reason},
             {"thickness_tried_mm", c.tried ? Json(1000 * c.tried->thickness) : Json(nullptr)},
             {"thiele_2_thickness_mm", 1000 * c.thiele_thickness}});
    object.update(json_parts::findings(all_findings(c)));
    return text(object);
}

} // namespace tidemark::output
