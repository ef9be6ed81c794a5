// SPDX-License-Identifier: MIT
#include "output/screen.hpp"
#include "output/view.hpp"

#include "output/best_view.hpp"
#include "output/slice_words.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

/// Causes less likely than this are only named: the first that keeps to one screen.
constexpr double shown_from[] = {0.05, 0.08, 0.12, 0.2};
constexpr int most_named = 4, screen_lines = 24;
constexpr double named_from = 0.01;   ///< and than this only counted
constexpr double unusual = 0.05;      ///< shares as small are spoken of
constexpr double rare = 0.01;         ///< and as small are to be checked first
constexpr double worth_a_look = 0.02; ///< gain in right names below which no look is proposed

double share(const inference::Cause& c, inference::Remedy r) {
    return c.by_remedy[static_cast<std::size_t>(r)];
}

/// Remedies and the causes that call for them.
void remedies(Document& doc, const inference::Why& w, double from) {
    std::string heading = "NEXT", rest, all;
    int named = 0;
    for (const inference::RemedyShare& r : w.remedies) {
        if (r.probability < from)
            continue;
        const auto listed = [&](const inference::Cause& c) { return share(c, r.remedy) >= from; };
        std::string what = of_cure(text_of(r.remedy), w.told.question);
        const bool nothing = r.remedy == inference::Remedy::nothing;
        if (nothing && w.surprise < rare)
            what = "measure again before you change anything: so grey a piece is rare, and no "
                   "mistake explains it better";
        if (r.remedy == inference::Remedy::longer)
            what += " than " + show_days_hours(w.still.seen.time) + ", as tidemark day tells";
        doc.paragraph(heading, (heading == "NEXT" ? "time " : "") + what + " (" +
                                   percent(r.probability) + " likely)" +
                                   (!nothing && std::ranges::any_of(w.causes, listed) ? ":" : "."));
        for (const inference::Cause& c : w.causes)
            if (listed(c))
                if (!nothing) // which says it itself
                    doc.paragraph(padded(percent(share(c, r.remedy)), 8), title_of(c, w));
        heading = "OR";
    }
    for (const inference::Cause& c : w.causes)
        if (std::ranges::max(c.by_remedy) < from && c.probability >= named_from) {
            all += (all.empty() ? "Less likely: " : ", ") + c.text.brief + ' ' +
                   percent(c.probability);
            if (++named <= most_named)
                rest = all;
        }
    if (!rest.empty())
        doc.paragraph("", rest + '.').longer = all + '.';
}

bool fits(const inference::Why& w) {
    return w.fit >= inference::fits_from;
}

void fit(Document& doc, const inference::Why& w) {
    if (w.paired)
        doc.paragraph("FIT", "no cause alone shows such a slice, so two together are weighed "
                             "as well.");
    else
        doc.paragraph("FIT", "of slices that the first cause leaves, " + in_100(w.fit) +
                                 " are as odd as this one: it fits.");
}

void look(Document& doc, const inference::Why& w) {
    if (w.next.empty() || !(w.next.front().after > w.next.front().now + worth_a_look))
        return;
    const inference::NextLook& next = w.next.front();
    const std::string text =
        text_of(next.look).how + ", and ask again with " + text_of(next.look).flag + '.';
    doc.paragraph("LOOK", text).longer = text + " The first cause is right " + percent(next.now) +
                                         " of the time, after that " + percent(next.after) + '.';
}

/// What to check for each cause, and what it would have shown.
void details(Document& doc, const inference::Why& w) {
    for (const inference::Cause& c : w.causes) {
        if (c.probability < named_from)
            continue;
        doc.paragraph(padded(percent(c.probability), 8), title_of(c, w) + '.');
        doc.paragraph("", "The slice then mostly shows: " + described(c.typical) +
                              ". With this slice " + core_range(c.cured) + '.');
        if (c.text.look && !c.typical_look)
            continue;
        doc.paragraph("", "Check: " + of_cure(c.text.check, w.told.question) + '.' +
                              (c.text.look ? " With this slice that finds " +
                                                 found_text(*c.text.look, *c.typical_look) +
                                                 ", and " + found_text(*c.text.look, *c.told_look) +
                                                 " if all was as told."
                                           : ""));
    }
}

/// What a slice with grey in it comes to.
void grey(Document& doc, const inference::Why& w, double from) {
    const Act act = act_on(w.still);
    if (!fits(w)) {
        doc.paragraph("CHECK",
                      "what was told and seen: none of these causes shows such a slice, alone "
                      "or with another. Take them as guesses.");
    }
    doc.paragraph(act.heading, of_cure(act.text, w.told.question));
    remedies(doc, w, from);
    doc.line();
    if (const std::string then = then_of(w.still); !then.empty())
        doc.paragraph("THEN", then);
    doc.paragraph(
        "SLICE",
        "on " + seen_on(w.seen) + "; as told, " + in_100(w.surprise) +
            (w.by_core ? " are as grey" : " are no pinker") +
            (w.surprise < unusual ? ": unusual, so something may have been otherwise." : "."));
    if (const std::string found = found_text(w.seen.found); !found.empty())
        doc.paragraph("FOUND", found);
    if (fits(w)) {
        doc.on = w.paired ? On::all : On::more;
        fit(doc, w);
        doc.on = On::all;
    }
    look(doc, w);
    doc.on = On::more;
    doc.line();
    details(doc, w);
    doc.on = On::all;
    doc.remarks(w.findings, "what to check for each cause");
}

} // namespace

Document view(const inference::Why& w, double from) {
    Document doc;
    doc.dangers(w.findings);
    doc.add(Block::Form::line, "", w.told.title, "title");
    if (w.seen.through) { // no cause of grey is to be sought
        doc.paragraph("SLICE", "on " + seen_on(w.seen) + "; as told, so are " + in_100(w.surprise) +
                                   " such pieces.");
        doc.paragraph(
            "",
            w.surprise < unusual
                ? "Nothing is grey, so no cause is weighed. So early a pink comes of a thinner "
                  "piece, a warmer cooler or more nitrite than told: measure these before the "
                  "next one."
                : "Nothing is grey, so no cause is weighed. tidemark learn keeps such a slice for "
                  "the days of the next one.");
        doc.line();
        doc.remarks(w.findings, "what it rests on");
        return doc;
    }
    grey(doc, w, from);
    return doc;
}

std::string why_screen(const inference::Why& w, const Shown& shown) {
    std::string text;
    for (const double from : shown_from) {
        text = screen(view(w, from), shown);
        if (shown.more || std::ranges::count(text, '\n') <= screen_lines)
            break;
    }
    return text;
}

} // namespace tidemark::output
