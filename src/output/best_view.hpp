// SPDX-License-Identifier: MIT
/// The answer in the first lines of every screen: the best day, its chance, and the smallest change
/// where that is not sure enough.
#pragma once

#include "inference/change.hpp"
#include "output/document.hpp"
#include "output/words.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace tidemark::output {

/// What an answer keeps for --more.
constexpr const char* kept_back = "the state of the meat and the brine, the ranges";

/// A change and the line that shows it.
struct Advised {
    inference::Changes changes;
    std::string command;    ///< what to type for changes.best
    std::string dates = {}; ///< what it makes of a date that was asked for, as a sentence
};

/// A share as "93 in 100"; never "100 in 100" or "0 in 100" of what is only nearly so.
std::string in_100(double share);

/// "day 19: 93 in 100 right".
std::string right_on(double seconds, double share);
/// The parts of the spread that are told at all [1].
constexpr double least_share = 0.03;

/// What a piece that is not right is, and the same where there is room for a name only.
struct Lack {
    double inference::DayChance::*share;
    const char *words, *brief;
};
constexpr Lack lacks[] = {{&inference::DayChance::grey, "still grey in the middle", "still grey"},
                          {&inference::DayChance::salty, "too salty", "too salty"},
                          {&inference::DayChance::bland, "not salty enough", "not salty enough"}};

/// "121 ppm ingoing nitrite over meat and brine, limit 200 ppm (us, cured)", or that it is unknown.
std::string ingoing_in_words(const cure::Ingoing& ingoing);

/// BEST: `act` stands before the day ("end stage 2 on "), `never` says why no piece is right on
/// any.
void show_best(Document& doc, const inference::BestDay& day, const std::string& never = "",
               const std::string& act = "");
/// The same in a title: "best day 14: 97 in 100 right", "no day is right".
std::string best_brief(const inference::BestDay& day, const std::string& act = "");
/// Whether some pieces come out right on the best day: otherwise there is no day to tell.
bool comes_right(const inference::BestDay& day);
/// What is wrong with the others: "4 are still grey in the middle, 3 too salty"; may be empty.
std::string not_right(const inference::DayChance& day);
/// "97 in 100 pieces like this are then right; 2 are still grey in the middle."
std::string right_and_not(const inference::DayChance& day);
/// " From day 12 to 19 at least 90 are." of a window [s] of more than one day, else nothing.
std::string any_from(const std::pair<double, double>& window, double confidence);
std::string window_of(const inference::BestDay& day);
/// "pork loin, block, 60 mm (2.4 in) thick".
std::string piece_in_words(const cure::Piece& piece);
/// What was asked, as it heads every output of the answer.
std::string asked_of(const cure::Outcome& outcome);
/// CHANGE, where the day is not sure enough; `then` stands before the day it brings.
void show_change(Document& doc, const inference::BestDay& day, const Advised& advised,
                 const std::string& then = "then ");
/// What was tried, one line each.
void show_tried(Document& doc, const Advised& advised);

/// When to begin, where a date is wanted.
void show_begin(Document& doc, const cure::Question& question);

} // namespace tidemark::output
