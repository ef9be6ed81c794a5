// SPDX-License-Identifier: MIT
/// Dates and times as a person writes and reads them: by the clock on the wall, without a zone.
/// Assumes the Gregorian calendar. Not for durations across a change of the clock: the hour it is
/// put on or back is not known here.
#pragma once

#include <chrono>
#include <string>
#include <string_view>

namespace tidemark::base {

/// Reads "2026-12-05", "2026-12-05 18:00" or "2026-12-05T18:00", with or without seconds, as local
/// time [s from the local 1970-01-01]; a date alone is `alone` after its midnight. Years from 1970
/// to 2199. `where` heads the message. Throws InputError for another form, a zone, or a day or hour
/// that does not exist.
std::chrono::local_seconds parse_moment(std::string_view text, const std::string& where,
                                        std::chrono::hours alone = {});

/// The hour that a cook means who gives a day alone: when work begins (common practice, no source).
constexpr std::chrono::hours working_hour{8};

/// `seconds` [s] after a moment, to the nearest minute. Throws RunError if that is not a number or
/// not within the years 1000 to 9999.
std::chrono::local_seconds minute_after(std::chrono::local_seconds moment, double seconds);

/// A moment as "Sat 5 Dec 2026 18:00".
std::string show_moment(std::chrono::local_seconds moment);

/// A moment in a pattern of std::put_time, in English whatever the locale.
std::string format_moment(std::chrono::local_seconds moment, const std::string& pattern);

} // namespace tidemark::base
