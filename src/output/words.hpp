// SPDX-License-Identifier: MIT
/// Numbers and sentences as a cook reads them; shared by the report, the map and the figure.
/// Conversion for show only: nothing here feeds back into a result.
#pragma once

#include "base/text.hpp"
#include "cure/outcome.hpp"
#include "inference/ranges.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::output {

/// A number with a fixed count of decimals, independent of the locale; "-" if it is not finite.
std::string fixed(double value, int decimals);

/// Which way a day may be rounded: the first good day up, the last one down.
using base::Rounding;
/// A time [s] as "day 9.4", to a tenth of a day.
std::string show_day(double seconds, Rounding rounding = Rounding::nearest);
/// A time [s] as "9 days 6 hours": to the hour below two days, to six hours
/// below ten, then to the day.
std::string show_days_hours(double seconds, Rounding rounding = Rounding::nearest);

/// A day and its range, the late end first: "95 in 100 by day 16, half by day 9.4, 5 in 100 by day
/// 6"; an end that is never reached
/// gives way to the share that never gets there.
std::string day_range(const inference::DayRange& range);

/// The number alone, to a tenth, no sooner than it is: "9.4".
std::string tenths(double seconds);
/// One end of a range: as tenths() below ten days, from there on whole.
std::string range_day(double seconds);
/// A day that can be kept to [s]: "day 19", "day 9.5".
std::string kept_day(double seconds);
/// A day of an answer [s], the same in every output of it: one that was set or is advised as
/// kept_day() has it; one worked out (a core is cured, a stage ends) to a tenth, no sooner than it
/// is.
std::string day_shown(const cure::Outcome& outcome, double seconds);
/// "the core is cured: 95 in 100 by day 16, half by day 9.4, 5 in 100 by day 6".
std::string core_range(const inference::DayRange& range);
/// "cured to the core", "grey in the middle", or of salt alone.
std::string core_state(const cure::Outcome& outcome, bool cured);
/// "cured to the core on day 9.4", or that it is not; of several pieces "all cured ...".
std::string core_cured(const cure::Outcome& outcome);

/// A proportion as "1.62 %".
std::string show_percent(double proportion);
/// A proportion as "14 ppm", with one decimal below ten.
std::string show_ppm(double proportion);

/// "limit 200 ppm (us, cured)", or that the law sets none; `law` as in cure::Ingoing.
std::string limit_in_words(const std::optional<double>& limit, const std::string& law);

/// The factor of a spread written "gsd 1.5"; none for any other spread.
std::optional<double> spread_factor(const std::string& spread);
/// A record's mark in words: 'S' is "seen in the source", and so on.
std::string mark_in_words(char mark);

/// `text` broken at spaces into lines of at most `width` characters; UTF-8 counts by character.
std::vector<std::string> wrapped(const std::string& text, std::size_t width);
/// Characters in a UTF-8 text.
std::size_t width_of(const std::string& text);

/// `text` moved right [characters] to end at `width`, or left to begin at 0.
inline std::string padded(const std::string& text, std::size_t width) {
    const std::size_t used = width_of(text);
    return std::string(width > used ? width - used : 0, ' ') + text;
}
inline std::string filled(const std::string& text, std::size_t width) {
    const std::size_t used = width_of(text);
    return text + std::string(width > used ? width - used : 0, ' ');
}

/// With a capital letter in front.
std::string capital(std::string text);

/// "3 kinds of pieces in one brine at 3 C", of a bucket.
std::string kinds_in_one_brine(const cure::Outcome& outcome);
/// A stage in the cook's words: "brine", "fresh brine", "rub", "rest".
std::string stage_name(const cure::Stage& stage);

} // namespace tidemark::output
