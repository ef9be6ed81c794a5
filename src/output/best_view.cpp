// SPDX-License-Identifier: MIT
#include "output/best_view.hpp"

#include "base/calendar.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string/join.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::output {
std::string not_right(const inference::DayChance& d) {
    if (d.right > 0.99) // "more than 99 in 100"
        return "";
    std::vector<std::string> parts;
    const auto add = [&](double share, const char* what) {
        if (const long n = std::lround(100 * share); n > 0)
            parts.push_back(std::to_string(n) +
                            (parts.empty() ? (n == 1 ? " is " : " are ") : " ") + what);
    };
    for (const Lack& l : lacks)
        add(d.*l.share, l.words);
    return boost::join(parts, ", ");
}

std::string right_and_not(const inference::DayChance& d) {
    const std::string others = not_right(d);
    return in_100(d.right) + " pieces like this are then right" +
           (others.empty() ? "." : "; " + others + ".");
}

std::string window_of(const inference::BestDay& day) {
    return day.window ? any_from(*day.window, day.confidence) : "";
}

std::string any_from(const std::pair<double, double>& window, double confidence) {
    return window.second > window.first
               ? " From day " + base::significant(window.first / 86400, 4) + " to " +
                     base::significant(window.second / 86400, 4) + " at least " +
                     fixed(100 * confidence, 0) + " are."
               : "";
}

std::string right_on(double seconds, double share) {
    return kept_day(seconds) + ": " + in_100(share) + " right";
}

std::string in_100(double share) {
    if (share > 0.99 && share < 1)
        return "more than 99 in 100";
    if (share > 0 && share < 0.01)
        return "fewer than 1 in 100";
    return fixed(100 * share, 0) + " in 100";
}

bool comes_right(const inference::BestDay& day) {
    return day.best && day.best->right >= 0.005;
}

std::string piece_in_words(const cure::Piece& piece) {
    return cure::cut_name(piece) + ", " + piece.shape +
           (piece.dimensions.thickness > 0
                ? ", " + base::show_length(piece.dimensions.thickness) + " thick"
                : std::string());
}

std::string ingoing_in_words(const cure::Ingoing& ingoing) {
    return ingoing.whole_system
               ? show_ppm(*ingoing.whole_system) + " ingoing nitrite " + ingoing.note + ", " +
                     limit_in_words(ingoing.limit, ingoing.law)
               : "ingoing nitrite is not known without the weights of meat and "
                 "brine";
}

std::string asked_of(const cure::Outcome& o) {
    if (o.pieces.size() > 1)
        return kinds_in_one_brine(o);
    if (o.question.stages.back().open())
        return o.title;
    const cure::Case& base = o.question.base;
    const double end = o.first().stages.back().to;
    return (base.name.empty() ? "" : base.name + ": ") + piece_in_words(base.piece) +
           (o.first().weight > 0 ? ", " + base::show_mass(o.first().weight) : std::string()) +
           ": a schedule of " +
           (end < 2 * 86400 ? fixed(end / 3600, end < 36000 ? 1 : 0) + " h"
                            : base::day_number(end, Rounding::up) + " d");
}

std::string best_brief(const inference::BestDay& day, const std::string& act) {
    return !comes_right(day)
               ? "no day is right"
               : (day.likely() ? "best" : "not sure, best") + (act.empty() ? " " : ": " + act) +
                     right_on(day.best->time, day.best->right);
}

void show_best(Document& doc, const inference::BestDay& day, const std::string& never,
               const std::string& act) {
    if (!comes_right(day)) {
        doc.paragraph("NO DAY",
                      "No piece like this comes out right on any day: " +
                          (never.empty() ? "none is cured to the core and within the "
                                           "salt that tastes right on one day"
                                         : never) +
                          ".",
                      "best");
    } else {
        doc.paragraph(day.likely() ? "BEST" : "NOT SURE",
                      (day.likely() ? "" : "no day suits most pieces; the best: ") + act +
                          kept_day(day.best->time) + ": " + right_and_not(*day.best) +
                          window_of(day),
                      "best")
            .moment = day.best->time;
    }
}

namespace {

/// Where to look for the ways that are no change, less those the cook does without.
std::string other_ways(const Advised& advised) {
    std::vector<std::string> ways;
    for (const auto& [name, words] :
         {std::pair{"needles", "needles"}, {"rub", "a rub"}, {"bag", "a bag"}})
        if (std::ranges::count(advised.changes.left_out, name) == 0)
            ways.push_back(words);
    if (ways.empty())
        return "";
    const std::string last = ways.back();
    ways.pop_back();
    return "; see tidemark choose for " + boost::join(ways, ", ") + (ways.empty() ? "" : " or ") +
           last;
}

} // namespace

void show_change(Document& doc, const inference::BestDay& day, const Advised& advised,
                 const std::string& then) {
    const std::string wanted = fixed(100 * day.confidence, 0) + " in 100";
    const auto& change = advised.changes.best;
    if (day.sure() || !advised.changes.looked)
        return;
    if (!change) {
        doc.paragraph("CHANGE",
                      "nothing that was tried makes it surer" + other_ways(advised) + ".");
        return;
    }
    doc.paragraph("CHANGE",
                  (change->enough ? "for " + wanted + ": "
                                  : "nothing tried reaches " + wanted + "; nearest: ") +
                      change->what + "; " + then + right_on(change->day, change->chance) +
                      (change->too_long ? ", but longer than cold alone keeps it safe." : ".") +
                      (change->window ? any_from(*change->window, day.confidence) : std::string()) +
                      (advised.dates.empty() ? "" : " " + advised.dates));
    doc.command(advised.command);
}

void show_tried(Document& doc, const Advised& advised) {
    std::string heading = "TRIED";
    for (const inference::Tried& t : advised.changes.tried) {
        doc.paragraph(heading, t.what + ": " + right_on(t.day, t.chance));
        heading.clear();
    }
    if (advised.changes.looked && !advised.changes.left_out.empty())
        doc.paragraph(heading,
                      "left out, as you asked: " + boost::join(advised.changes.left_out, ", "));
}

void show_begin(Document& doc, const cure::Question& question) {
    if (!question.ready || !question.start)
        return;
    const std::string then = base::show_moment(*question.start),
                      wanted = base::show_moment(*question.ready);
    doc.paragraph("BEGIN", !cure::too_late(question)
                               ? "on " + then + ", to have it on " + wanted + "."
                               : "too late for " + wanted + ": that begins on " + then +
                                     ", which is past. Begun now it is ready on " +
                                     base::show_moment(cure::dates_from(question) +
                                                       (*question.ready - *question.start)) +
                                     ".");
}

} // namespace tidemark::output
