// SPDX-License-Identifier: MIT
#include "output/view_parts.hpp"

#include "base/calendar.hpp"
#include "base/quantity.hpp"

#include <algorithm>
#include <utility>

namespace tidemark::output {
namespace {

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

void table(Document& doc, const cure::Choice& c, const inference::Ways& ways) {
    std::vector<std::vector<std::string>> rows;
    for (std::size_t k = 0; k < c.methods.size(); ++k) {
        if (left_out(c, k))
            continue;
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
    doc.table("ways",
              {{"", "", 18, "way"},
               {"", "take out, day", 14, "take out on day"},
               {"", "right in 100", 13, "right in 100"},
               {"", "ready", 6, "ready on day"},
               {"", "salt %", 8, "salt %"},
               {"", "ppm allowed", 13, "ppm allowed"},
               {"", "by hand", 8, "by hand"}},
              rows);
}

/// Of a way without chances.
std::string typically(const inference::Way& w) {
    return ": typically ready on " + (w.ready ? show_day(*w.ready, Rounding::up) : "no day");
}

/// The way to take and when, or why none.
void choice(Document& doc, const cure::Choice& c, const inference::Ways& ways, const Lines& lines,
            Moment start, Moment ready_by) {
    if (!ways.best) {
        doc.paragraph("CHOICE",
                      choice_brief(c, ways) + " for this piece as it stands. " + ways.reason + ".",
                      "best");
        return;
    }
    const inference::Way& w = ways.list[*ways.best];
    std::string text =
        c.methods[*ways.best].result.findings.has("long-cure")
            ? "none is sure in the days for which cold alone keeps it safe. Of the others: "
            : "";
    text += c.methods[*ways.best].name;
    const double cut = c.methods[*ways.best].result.first().piece.dimensions.thickness;
    if (cut < c.question.base.piece.dimensions.thickness)
        text += ", a piece cut " + base::show_length(cut) + " thick";
    std::optional<double> moment;
    if (w.chance && w.chance->best.best) {
        const inference::BestDay& b = w.chance->best;
        moment = b.best->time;
        if (!b.sure())
            text += ", the surest of them";
        text += ", out of the cure on " + kept_day(b.best->time) + ": " + right_and_not(*b.best) +
                window_of(b);
    } else {
        text += typically(w) + ". These days do not include variation between pieces.";
    }
    if (w.ready && start)
        text += " Begun " + base::show_moment(*start) + " it is ready " +
                base::show_moment(base::minute_after(*start, *w.ready)) + ".";
    else if (w.ready && ready_by)
        text += " To be ready " + base::show_moment(*ready_by) + " begin by " +
                base::show_moment(base::minute_after(*ready_by, -*w.ready)) + ".";
    doc.paragraph("CHOICE", text, "best").moment = moment;
    doc.on = On::screen;
    doc.command(lines.next.empty() ? lines.plan : lines.next);
    doc.on = On::page;
    doc.paragraph("", "Its own sheet:");
    doc.command(lines.sheet);
    doc.on = On::all;
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
void details(Document& doc, const cure::Choice& c) {
    std::string heading = "MADE";
    for (std::size_t k = 0; k < c.methods.size(); ++k) {
        if (left_out(c, k))
            continue;
        const cure::Method& m = c.methods[k];
        std::string text = m.name + ": " + m.made;
        if (m.result.salt_used > 0)
            text += "; weigh " + weighed(m.result, c.question.base.brine);
        doc.paragraph(std::exchange(heading, ""), text + ".");
    }
}

} // namespace

std::string asked_of(const cure::Choice& c) {
    return piece_in_words(c.question.base.piece) + ", at " +
           base::show_temperature(c.question.base.temperature);
}

bool left_out(const cure::Choice& c, std::size_t k) {
    return std::ranges::count(c.question.without, c.methods[k].name) > 0;
}

std::string way_brief(const cure::Choice& c, const inference::Ways& ways, std::size_t k) {
    const inference::Way& w = ways.list[k];
    if (w.chance && w.chance->best.best)
        return c.methods[k].name + ", " +
               right_on(w.chance->best.best->time, w.chance->best.best->right);
    return c.methods[k].name + (w.ruled_out.empty() ? typically(w) : ": ruled out");
}

std::string choice_brief(const cure::Choice& c, const inference::Ways& ways) {
    return ways.best ? "Take " + way_brief(c, ways, *ways.best)
                     : "None of the ways can be recommended";
}

Document view(const cure::Choice& c, const inference::Ways& ways, const Lines& lines, Moment start,
              Moment ready_by) {
    Document doc;
    doc.start = start;
    const judge::Findings findings = findings_of(c, ways.best);
    doc.on = On::brief | On::page;
    doc.dangers(findings);
    doc.on = On::more;
    doc.dangers(all_findings(c));
    doc.on = On::all;
    doc.title(asked_of(c));
    choice(doc, c, ways, lines, start, ready_by);
    doc.line();
    table(doc, c, ways);
    for (std::size_t k = 0; k < c.methods.size(); ++k)
        if (!ways.list[k].ruled_out.empty() && !left_out(c, k))
            doc.paragraph("OUT", c.methods[k].name + ": " + ways.list[k].ruled_out + ".");
    doc.on = On::more | On::page;
    details(doc, c);
    doc.on = On::more;
    if (c.thickest)
        doc.paragraph("LIMIT",
                      "above " + base::show_length(*c.thickest) +
                          " thick, all else in proportion, this brine alone cannot do it: " +
                          c.thickest_reason + ".");
    if (c.tried) {
        const std::string end = base::show_length(c.tried->thickness);
        const std::string beyond =
            c.tried->asked ? "" : ", for no such piece of this shape can be made";
        doc.paragraph("LIMIT",
                      c.tried->cures
                          ? "this brine alone can do it up to " + end +
                                " thick, all else in proportion: no thicker one was tried" +
                                beyond + "."
                          : "this brine alone cannot do it, nor thinner down to " + end +
                                ", all else in proportion: " + c.thickest_reason +
                                "; no thinner one was tried" + beyond + ".");
    }
    if (c.thiele_thickness > 0)
        doc.paragraph(c.thickest || c.tried ? "" : "LIMIT",
                      "loss of nitrite outruns its diffusion (Thiele modulus 2) from " +
                          base::show_length(c.thiele_thickness) + " of sheet.");
    doc.remarks(all_findings(c), kept_back);
    doc.on = On::brief | On::page;
    doc.remarks(findings, kept_back);
    return doc;
}

} // namespace tidemark::output
