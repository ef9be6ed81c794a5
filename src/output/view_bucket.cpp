// SPDX-License-Identifier: MIT
#include "output/view_parts.hpp"

#include "base/quantity.hpp"

#include "output/best_view.hpp"
#include "output/plan_calendar.hpp"
#include "output/words.hpp"

#include <algorithm>

namespace tidemark::output {
namespace {

constexpr double mm = 1e-3, percent = 1e-2, ppm = 1e-6;

std::string window(const cure::PieceOutcome& p) {
    if (!p.cured)
        return "not cured";
    if (p.last_good && *p.last_good < *p.cured)
        return show_day(*p.cured, Rounding::up) + ", none good";
    return show_day(*p.cured, Rounding::up) + " to " +
           (p.last_good ? show_day(*p.last_good, Rounding::down).substr(4) : "open");
}

void pieces(Document& doc, const cure::Outcome& b) {
    std::vector<std::vector<std::string>> rows;
    for (const cure::PieceOutcome& p : b.pieces) {
        const std::string count = p.piece.pieces > 1 ? std::to_string(p.piece.pieces) + " of " : "";
        rows.push_back(
            {count + p.name, window(p), fixed(p.core.depth / mm, 1),
             fixed(p.mean.salt / percent, 2),
             b.has_nitrite ? fixed(p.core.arrived / ppm, 0) : fixed(p.core.salt / percent, 2)});
    }
    const std::string unit = b.has_nitrite ? "ppm" : "salt %";
    doc.table("state",
              {{"On " + day_shown(b, b.at), "", 35, ""},
               {"take out", "", 21, "take out", true},
               {"depth", "mm", 8, "depth mm"},
               {"mean", "salt %", 8, "mean salt %"},
               {"core", unit, 8, "core " + unit}},
              rows);
    doc.line("  depth: core to the nearest wet face" +
             std::string(b.has_nitrite ? "; core: nitrite that has arrived there" : ""));
}

/// When to take out which, the first to come out first, with its chance.
void order(Document& doc, const cure::Outcome& b, const std::vector<inference::BestDay>& chances) {
    struct Row {
        double time;
        std::string name, text;
    };
    std::vector<Row> rows;
    for (std::size_t k = 0; k < b.pieces.size(); ++k) {
        const cure::PieceOutcome& p = b.pieces[k];
        const std::string name =
            (p.piece.pieces > 1 ? std::to_string(p.piece.pieces) + " of " : "") + p.name;
        const double end = b.at + 1;
        if (chances.empty()) {
            rows.push_back({p.cured.value_or(end), name, window(p) + '.'});
        } else if (const inference::BestDay& d = chances[k]; comes_right(d)) {
            const std::string others = d.sure() ? "" : not_right(*d.best);
            const std::string set = d.as_set && p.piece.out
                                        ? kept_day(*p.piece.out) + ", as set, with " +
                                              in_100(d.as_set->right) + " right; best: "
                                        : std::string();
            rows.push_back({set.empty() ? d.best->time : *p.piece.out, name,
                            set + (d.likely() ? "" : "not sure of any day; the best: ") +
                                right_on(d.best->time, d.best->right) +
                                (others.empty() ? "." : "; " + others + ".") + window_of(d)});
        } else {
            rows.push_back({end, name, best_brief(d) + '.'});
        }
    }
    std::ranges::stable_sort(rows, {}, &Row::time);
    std::string set;
    for (std::size_t k = 0; k < chances.size(); ++k)
        if (const auto& c = chances[k].as_set; c && !b.question.stages.back().open())
            set += (set.empty() ? "" : ", ") + b.pieces[k].name + ' ' + in_100(c->right);
    if (!set.empty())
        doc.paragraph("AS SET", set + " right, when all stages are kept as they are.");
    std::string heading = set.empty() ? "TAKE OUT" : "BEST";
    for (const Row& r : rows) {
        doc.paragraph(heading, r.name + ": " + r.text, "best").moment = r.time;
        heading.clear();
    }
    if (chances.empty())
        doc.paragraph("", "These days do not include variation between pieces.");
}

void brine(Document& doc, const cure::Outcome& b) {
    std::vector<Column> columns{{"", "Brine on day", 15, ""}};
    std::vector<std::vector<std::string>> rows{{"  salt %"}};
    if (b.has_nitrite)
        rows.push_back({"  nitrite ppm"});
    for (const cure::BrineDay& d : b.brine) {
        const std::string day = show_day(d.time, Rounding::up);
        columns.push_back({"", day.substr(4), 8, day});
        rows[0].push_back(fixed(d.brine.salt / percent, 2));
        if (b.has_nitrite)
            rows[1].push_back(fixed(d.brine.nitrite / ppm, 0));
    }
    doc.table("brine", columns, rows);
}

} // namespace

void bucket(Document& doc, const inference::Answer& a, const Advised& advised) {
    const cure::Outcome& b = a.outcome;
    doc.on = On::page;
    doc.title(asked_of(b));
    doc.on = On::all;
    order(doc, b, a.chances);
    show_begin(doc, b.question);
    for (const cure::PieceOutcome& p : b.pieces)
        if (!p.never.empty())
            doc.paragraph("NEVER", p.name + ": " + p.never);
    if (!a.chances.empty())
        show_change(doc, inference::least_sure(a.chances), advised,
                    "the least sure piece then on ");
    doc.on = On::more;
    show_tried(doc, advised);
    doc.on = On::all;
    const std::string typical = b.slowest().cured
                                    ? "the last to be cured is " + b.slowest().name + ", on " +
                                          day_shown(b, *b.slowest().cured)
                                    : "not all are cured; the slowest is " + b.slowest().name;
    std::string falls;
    if (!b.brine.empty()) {
        const cure::BrineState &start = b.brine.front().brine, &end = b.brine.back().brine;
        falls = "; the brine at " + base::show_temperature(b.question.base.temperature) +
                " falls from " + fixed(start.salt / percent, 2) + " to " +
                fixed(end.salt / percent, 2) + " % salt by then" +
                (b.has_nitrite ? ", from " + fixed(start.nitrite / ppm, 0) + " to " +
                                     show_ppm(end.nitrite) + " nitrite"
                               : std::string());
    }
    doc.paragraph("TYPICAL", typical + falls + '.').longer = typical + '.';
    doc.on = On::more;
    for (const std::string& words : b.take_out)
        doc.paragraph("TAKE OUT", words);
    doc.line();
    pieces(doc, b);
    doc.line();
    brine(doc, b);
    doc.on = On::all;
    if (b.has_nitrite)
        doc.paragraph("LAW", ingoing_in_words(b.ingoing));
    doc.remarks(b.findings, kept_back);
}

} // namespace tidemark::output
