// SPDX-License-Identifier: MIT
#include "output/view.hpp"

#include "base/text.hpp"
#include "output/slice_words.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

using namespace inference;

std::string in_words(std::string name) {
    std::ranges::replace(name, '-', ' ');
    return name;
}

/// What the slice showed, and what was found besides.
std::string seen(const Slice& s) {
    const std::string text = described(s), found = found_text(s.found);
    return text + (text.empty() || found.empty() ? "" : ", ") + found;
}

constexpr std::size_t index(Lesson which) {
    return static_cast<std::size_t>(which);
}

void lesson(Document& doc, const Learnt& l, Lesson which, const char* heading,
            const std::string& what) {
    if (!l.told[index(which)]) {
        doc.paragraph(heading, l.reason[index(which)] + ".");
    } else if (l.bound && which == Lesson::nitrite) {
        doc.paragraph(heading, "every slice was pink through, which gives a bound only: " + what +
                                   " at least " + fixed(l.quantile(which, 0.05), 2) +
                                   " times the record's (95 in 100).");
    } else if (which == Lesson::pieces) {
        const auto percent = [&](double q) { return fixed(100 * l.quantile(which, q), 0); };
        doc.paragraph(heading, what + " " + percent(0.5) + " %, two in three; 90 in 100 between " +
                                   percent(0.05) + " and " + percent(0.95) + " %.");
    } else {
        doc.paragraph(heading, what + " " + fixed(l.quantile(which, 0.5), 2) +
                                   " times the record's; 90 in 100 between " +
                                   fixed(l.quantile(which, 0.05), 2) + " and " +
                                   fixed(l.quantile(which, 0.95), 2) + ".");
    }
}

/// By which day how many pieces like the next are cured; early, half, late.
void next_days(Document& doc, const LearnAnswer& a) {
    std::vector<std::vector<std::string>> rows;
    const auto row = [&](const char* name, const DayRange& r) {
        std::vector<std::string> cells{name};
        for (const double day : {r.early, r.half, r.late})
            cells.push_back(std::isfinite(day) ? range_day(day) : "no day");
        rows.push_back(cells);
    };
    row("  by the records alone", a.by_records);
    if (!a.batches.empty()) {
        row("  your next piece", a.by_shop);
        row("  pieces of a shop that is known", a.of_pieces);
    }
    doc.table("days",
              {{"", "  cured to the core by day", 36, ""},
               {"", "5 in 100", 10, "5 in 100 by day"},
               {"", "half", 8, "half by day"},
               {"", "95 in 100", 11, "95 in 100 by day"}},
              rows);
}

/// The batches, one line each.
void slices(Document& doc, const LearnAnswer& a) {
    if (a.batches.empty())
        return;
    const std::vector<Column> columns{
        {"", "SLICES", 9, ""}, {"", "date", 12, "date", true}, {"", "batch", 14, "batch", true},
        {"", "day", 6, "day"}, {"", "told", 7, "told"},        {"", "  seen", 32, "seen", true}};
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < a.batches.size(); ++i) {
        const Batch& b = a.batches[i];
        const std::vector<std::string> name = wrapped(b.name, 13);
        rows.push_back({"  " + std::to_string(i + 1), b.date.substr(0, 10),
                        name.empty() ? "" : base::shortened(name[0], 13),
                        base::significant(b.slice.time / 86400, 4),
                        b.half ? range_day(*b.half) : "-", "  " + seen(b.slice)});
    }
    doc.table("slices", columns, rows);
    doc.line("         told: the day half of such cuts were cured by, as predicted then");
}

} // namespace

Document view(const LearnAnswer& a) {
    Document doc;
    doc.dangers(a.findings);
    const std::string count = std::to_string(a.batches.size());
    doc.title(in_words(a.muscle) + ": " + count + (a.batches.size() == 1 ? " batch" : " batches") +
              " in your notebook" + (a.added ? ", the last just added" : ""));
    lesson(doc, a.learnt, Lesson::nitrite, "NITRITE", "nitrite moves in your meat at");
    if (!a.batches.empty()) { // otherwise the first line says it for all
        lesson(doc, a.learnt, Lesson::salt, "SALT", "salt moves in your meat at");
        lesson(doc, a.learnt, Lesson::loss, "LOSS", "nitrite is used up in your meat at");
        lesson(doc, a.learnt, Lesson::pieces, "PIECES", "your pieces differ in pace by");
    }
    for (const std::string& text : a.learnt.conflicts) {
        doc.paragraph("DOUBT", text + ".");
    }
    doc.line();
    doc.paragraph("NEXT", a.next);
    next_days(doc, a);
    doc.line();
    slices(doc, a);
    doc.remarks(a.findings);
    return doc;
}

} // namespace tidemark::output
