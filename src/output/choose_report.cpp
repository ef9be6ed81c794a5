// SPDX-License-Identifier: MIT
#include "output/choose_report.hpp"

#include "base/calendar.hpp"
#include "base/quantity.hpp"
#include "output/screen.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

using Json = nlohmann::ordered_json;
using Moment = std::optional<std::chrono::local_seconds>;

std::string in_tenths(double seconds, Rounding rounding) {
    return show_day(seconds, rounding).substr(4);
}

std::string window(const cure::Method& m) {
    if (!m.pull)
        return "never";
    return in_tenths(*m.pull, Rounding::up) + " - " +
           (!m.latest             ? "open"
            : *m.latest < *m.pull ? "none"
                                  : in_tenths(*m.latest, Rounding::down));
}

void table(Screen& screen, const cure::Choice& c) {
    const auto row = [&](const std::string& name, const std::vector<std::string>& cells) {
        std::string line = filled(name, 11);
        constexpr std::size_t widths[] = {14, 8, 8, 8, 14, 8, 7};
        for (std::size_t k = 0; k < cells.size(); ++k)
            line += padded(cells[k], widths[k]);
        screen.line(line);
    };
    row("", {"out of cure", "ready", "salt %", "core %", "ingoing/most", "spread", "hands"});
    row("", {"from - to day", "day", "mean", "", "ppm", "", ""});
    for (const cure::Method& m : c.methods) {
        const cure::PlanResult& r = m.result;
        const cure::Reading& e = r.stages.back().end;
        row(m.name, {window(m), m.ready ? in_tenths(*m.ready, Rounding::up) : "never",
                     fixed(100 * e.mean_salt, 2), fixed(100 * e.core_salt, 2),
                     r.has_nitrite ? fixed(1e6 * r.ingoing, 0) + '/' +
                                         (r.ingoing_limit ? fixed(1e6 * *r.ingoing_limit, 0) : "-")
                                   : "-",
                     fixed(100 * e.even(), 0) + " %", std::to_string(r.hands)});
    }
    screen.line("  spread: most salt of the lean less least, over the mean, when ready");
}

Json optional_days(const std::optional<double>& t) {
    return t ? Json(*t / 86400) : Json(nullptr);
}

Json days_range(const inference::DayRange& r) {
    const auto one = [](double t) {
        return t < inference::never ? Json(t / 86400) : Json(nullptr);
    };
    return {{"early", one(r.early)},
            {"half", one(r.half)},
            {"late", one(r.late)},
            {"share_never", r.share_never}};
}

} // namespace

std::string choose_report(const cure::Choice& c, const MethodRanges& ranges, Moment start,
                          Moment ready_by) {
    Screen screen;
    const judge::Findings findings = all_findings(c);
    screen.dangers(findings);
    const cure::Piece& piece = c.question.base.piece;
    std::string muscle = piece.muscle;
    std::ranges::replace(muscle, '-', ' ');
    screen.line(muscle + ", " + piece.shape +
                (piece.dimensions.thickness > 0
                     ? ", " + base::show_length(piece.dimensions.thickness) + " thick"
                     : "") +
                ", at " + base::show_temperature(c.question.base.temperature));
    screen.line();
    screen.paragraph("CHOICE", c.recommendation);
    if (c.best && *c.best < ranges.size() && !(ranges[*c.best].ready.late < inference::never))
        screen.paragraph("", "Meat varies: " + fixed(100 * ranges[*c.best].ready.share_never, 0) +
                                 " of 100 such cuts are not ready on any day looked at.");
    if (c.best && *c.best < ranges.size() && ranges[*c.best].ready.late < inference::never)
        screen.paragraph(
            "", "Meat varies: count on day " + in_tenths(ranges[*c.best].ready.late, Rounding::up) +
                    ", by which 95 in 100 such cuts are ready." +
                    (c.question.within && ranges[*c.best].ready.late > *c.question.within
                         ? " That is after the date asked for: begin sooner, or risk it."
                         : ""));
    screen.line();
    table(screen, c);
    screen.line();
    for (std::size_t k = 0; k < c.methods.size(); ++k) {
        const cure::Method& m = c.methods[k];
        std::string text = m.made;
        if (m.result.salt_used > 0)
            text += "; uses " + base::show_mass(m.result.salt_used) + " salt" + " in all" +
                    (m.result.nitrite_used > 0
                         ? ", " + fixed(1000 * m.result.nitrite_used, 2) + " g nitrite, that is " +
                               fixed(1000 * m.result.nitrite_used /
                                         c.question.base.brine.premix_strength,
                                     1) +
                               " g of a premix with " +
                               show_percent(c.question.base.brine.premix_strength) +
                               " (its salt is in the sum)"
                         : "");
        text += m.ruled_out.empty() ? "; can be done" : "; OUT: " + m.ruled_out;
        const bool ranged = k < ranges.size();
        const bool sure = !ranged || ranges[k].ready.late < inference::never;
        if (m.ready && ranged && ranges[k].ready.early < inference::never)
            text += sure ? "; ready in 90 of 100 such cuts between day " +
                               in_tenths(ranges[k].ready.early, Rounding::down) + " and " +
                               in_tenths(ranges[k].ready.late, Rounding::up)
                         : "; ready no sooner than day " +
                               in_tenths(ranges[k].ready.early, Rounding::down) +
                               " in 95 of 100 such cuts, and in " +
                               fixed(100 * ranges[k].ready.share_never, 0) +
                               " of 100 later than any day looked at";
        if (m.ready && ready_by && m.ruled_out.empty())
            text += sure ? "; to be ready on the date begin by " +
                               base::show_moment(base::minute_after(
                                   *ready_by, -(ranged ? ranges[k].ready.late : *m.ready))) +
                               (ranged ? " (95 in 100 such cuts are)" : "")
                         : std::string("; no day to begin makes 95 in 100 such cuts ready on the "
                                       "date: too many take longer than was looked at");
        if (m.ready && start)
            text += "; begun at the start given, ready " +
                    base::show_moment(base::minute_after(*start, *m.ready)) +
                    " by the middle of the numbers";
        screen.paragraph(m.name, text + ".");
    }
    screen.line();
    if (c.best)
        screen.paragraph("PLAN", "as flags of tidemark plan, with those of the piece: " +
                                     c.methods[*c.best].schedule);
    if (c.thickest)
        screen.paragraph(
            "LIMIT", "above " + base::show_length(*c.thickest) +
                         " thick, all else in proportion, immersion in this brine cannot do it: " +
                         c.thickest_reason + ".");
    if (c.tried) {
        const std::string end = base::show_length(c.tried->thickness);
        const std::string beyond =
            c.tried->asked ? "" : ", for no such piece of this shape can be made";
        screen.paragraph("LIMIT",
                         c.tried->cures
                             ? "immersion in this brine can do it up to " + end +
                                   " thick, all else in proportion: no thicker one was tried" +
                                   beyond + "."
                             : "immersion in this brine cannot do it, nor thinner down to " + end +
                                   ", all else in proportion: " + c.thickest_reason +
                                   "; no thinner one was tried" + beyond + ".");
    }
    if (c.thiele_thickness > 0)
        screen.paragraph(c.thickest || c.tried ? "" : "LIMIT",
                         "loss of nitrite outruns its diffusion (Thiele modulus 2) from " +
                             base::show_length(c.thiele_thickness) + " of sheet.");
    screen.paragraph(
        "NOTE",
        "cured means pink at the core, not safe; ready means rested until the salt is as even as "
        "asked with --even, which often takes longest; hands: times something has to be done");
    screen.remarks(findings);
    return screen.text();
}

std::string choose_json(const cure::Choice& c, const MethodRanges& ranges) {
    const judge::Findings findings = all_findings(c);
    Json methods = Json::array();
    for (std::size_t k = 0; k < c.methods.size(); ++k) {
        const cure::Method& m = c.methods[k];
        const cure::PlanResult& r = m.result;
        const cure::Reading& e = r.stages.back().end;
        methods.push_back(
            {{"method", m.name},
             {"made", m.made},
             {"schedule", m.schedule},
             {"out_of_cure_from_day", optional_days(m.pull)},
             {"out_of_cure_to_day", optional_days(m.latest)},
             {"ready_day", optional_days(m.ready)},
             {"ready_range_days", k < ranges.size() ? days_range(ranges[k].ready) : Json(nullptr)},
             {"cured_range_days", k < ranges.size() ? days_range(ranges[k].cured) : Json(nullptr)},
             {"range_error", k < ranges.size() ? Json(ranges[k].error) : Json(nullptr)},
             {"mean_salt_percent", 100 * e.mean_salt},
             {"core_salt_percent", 100 * e.core_salt},
             {"core_arrived_ppm", 1e6 * e.core_arrived},
             {"spread_percent", 100 * e.even()},
             {"ingoing_ppm", 1e6 * r.ingoing},
             {"ingoing_limit_ppm", r.ingoing_limit ? Json(1e6 * *r.ingoing_limit) : Json(nullptr)},
             {"salt_used_kg", r.salt_used},
             {"nitrite_used_g", 1000 * r.nitrite_used},
             {"hands", r.hands},
             {"mass_balance_error", r.mass_balance_error},
             {"ruled_out", m.ruled_out.empty() ? Json(nullptr) : Json(m.ruled_out)},
             {"dangers", r.findings.dangers()},
             {"warnings", r.findings.warnings()}});
    }
    const Json object = {
        {"program", "tidemark"},
        {"version", TIDEMARK_VERSION},
        {"recommendation", c.recommendation},
        {"choice", c.best ? Json(c.methods[*c.best].name) : Json(nullptr)},
        {"methods", methods},
        {"thickest_by_immersion_mm", c.thickest ? Json(1000 * *c.thickest) : Json(nullptr)},
        {"thickest_reason", c.thickest_reason},
        {"thickness_tried_mm", c.tried ? Json(1000 * c.tried->thickness) : Json(nullptr)},
        {"thiele_2_thickness_mm", 1000 * c.thiele_thickness},
        {"dangers", findings.dangers()},
        {"warnings", findings.warnings()},
        {"cautions", findings.cautions()}};
    return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

} // namespace tidemark::output
