// SPDX-License-Identifier: MIT
/// A question from flags and a case file: the case, its schedule, the pieces beside it.
#pragma once

#include "base/calendar.hpp"
#include "cli/case_from_options.hpp"
#include "cure/question.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::cli {

struct AskedQuestion {
    cure::Question question;
    std::vector<std::string> warnings;
};

/// What "day", "plan" or "bucket" asks: a case without stages is kept in its brine without an end.
/// Throws InputError.
AskedQuestion question_from_options(const Options& options, const std::string& command,
                                    base::Records& records);

/// What --without leaves out: names of cure::all_means(), with all that has them in it.
std::vector<std::string> without_from_options(const Options& options);

/// Warns of pieces of a bucket's file that a command for one piece leaves out.
void tell_left_out(const Options& options, std::vector<std::string>& warnings);

/// The needles of --pump; none without it. Throws InputError.
std::optional<cure::Pump> pump_from_options(const Options& options, base::Records& records);

} // namespace tidemark::cli
