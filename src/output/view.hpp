// SPDX-License-Identifier: MIT
/// Every kind of answer as a document: what it tells, in which words and order. The first thing
/// told is the answer itself.
#pragma once

#include "cure/brine_sheet.hpp"
#include "cure/choose.hpp"
#include "inference/answer.hpp"
#include "inference/choose_chance.hpp"
#include "inference/learn.hpp"
#include "inference/notebook.hpp"
#include "inference/why.hpp"
#include "output/document.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::output {

struct Shown;

/// Lines to type that belong to an answer; an empty one is left out.
struct Lines {
    std::string change = {};           ///< shows the change advised
    std::string why = {}, learn = {};  ///< the cook fills in what was seen
    std::string plan = {}, sheet = {}; ///< of the way chosen
    std::string next = {};             ///< in place of `plan`, once that way is in a file
};

/// The section on the day that is told, and the plane across the needles.
struct Sections {
    cure::Picture section = {};
    std::optional<cure::Picture> across = {};
};

/// What the line to type next says of the meat, as the cook has told it.
struct AskedMeat {
    std::string flags;     ///< " --case rib.ini" or " --muscle collar --weight \"5 lb\""
    bool measured = false; ///< the thickness is among them
    bool several = false;  ///< other pieces are
};

struct LearnAnswer {
    std::string notebook; ///< file
    std::string muscle;
    std::string next;   ///< title of the case the days are for
    bool added = false; ///< the last batch has just been written
    std::vector<inference::Batch> batches;
    inference::Learnt learnt;
    inference::DayRange by_records, by_shop; ///< pull day of the next piece [s]
    inference::DayRange of_pieces; ///< of this cut's pieces in a shop known to its middle [s]
    judge::Findings findings;
};

/// Of a piece or several, in a brine or a schedule.
Document view(const inference::Answer& answer, const Sections& sections, const Lines& lines = {});
/// Of the ways side by side; `start` turns days into dates, `ready_by` is the date asked for.
Document view(const cure::Choice& choice, const inference::Ways& ways, const Lines& lines,
              std::optional<std::chrono::local_seconds> start,
              std::optional<std::chrono::local_seconds> ready_by);
/// Of a brine that was weighed or is to be.
Document view(const cure::BrineSheet& sheet, const AskedMeat& meat);
/// Of what a shop's slices taught.
Document view(const LearnAnswer& answer);
/// Why a core is grey; causes less likely than `from` [1] are only named, or with `brief` a few.
Document view(const inference::Why& why, double from);
/// With as many causes as keep the screen to its lines.
std::string why_screen(const inference::Why& why, const Shown& shown);

/// The words by which another command takes up a recipe for targets as it stands; where the meat is
/// not measured, its shape and thickness are to be added.
std::string next_command(const cure::BrineSheet& sheet, const AskedMeat& meat);

} // namespace tidemark::output
