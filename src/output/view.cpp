// SPDX-License-Identifier: MIT
#include "output/view.hpp"

#include "output/plan_calendar.hpp"
#include "output/view_parts.hpp"

namespace tidemark::output {

Document view(const inference::Answer& a, const Sections& sections, const Lines& lines) {
    const cure::Outcome& o = a.outcome;
    const Advised advised{a.changes, lines.change, change_dates(a)};
    Document doc;
    if (o.question.start)
        doc.start = cure::dates_from(o.question);
    doc.dangers(o.findings);
    if (o.pieces.size() > 1)
        bucket(doc, a, advised);
    else if (o.question.stages.back().open())
        one_brine(doc, a, advised, sections);
    else
        schedule(doc, a, advised, sections);
    inference::Answer quiet = a; // the dangers stand above
    quiet.outcome.findings = {};
    const bool some_day = !a.ranges || comes_right(a.ranges->best) || a.ranges->asked;
    doc.on = doc.start && some_day ? On::all : On::page;
    doc.line();
    doc.add(Block::Form::calendar, "", "", "calendar").entries = plan_entries(quiet);
    doc.on = On::all;
    return doc;
}

} // namespace tidemark::output
