// SPDX-License-Identifier: MIT
/// A schedule as dates: lines for the screen, and a file for a calendar program.
/// Times go by the clock on the wall, as it stood at the start. After a change of the clock the
/// entries are an hour off in elapsed time. That does not matter for a cure: its days are known to
/// a tenth of a day at best. Not for a step that must last a few hours exactly in that very night.
#pragma once

#include <chrono>
#include <string>
#include <vector>

namespace tidemark::output {

struct CalendarEntry {
    double time = 0;        ///< [s] from the start
    double length = 0;      ///< [s]; 0: a moment
    std::string title;      ///< one line, not empty
    std::string detail;     ///< may have several lines, or none
    bool by_hand = false;   ///< somebody has to do it then: a calendar program rings
    std::string key = {};   ///< what it is, whatever its title says; empty: the title
    std::string kept = {};  ///< how it is kept from then on: part of the detail where one is alone
    std::string aside = {}; ///< more of the detail that a screen says elsewhere
    int times = 1;          ///< how often in all, every second day by the clock on the wall

    std::string whole_detail() const { return joined(aside, joined(detail, kept)); }

private:
    static std::string joined(const std::string& a, const std::string& b) {
        return a + (a.empty() || b.empty() ? "" : " ") + b;
    }
};

/// The entries by time, as lines of at most `columns` characters with the date first; to the
/// minute. What goes without saying between two entries is left out: an end at which the next
/// begins, that it is kept as before, and all asides. Throws base::RunError for a time that no
/// calendar has.
std::string calendar_text(const std::vector<CalendarEntry>& entries,
                          std::chrono::local_seconds start, std::size_t columns = 80);

/// The entries by time as a calendar file after RFC 5545, named `name`; to the minute.
///
/// Times are "floating" (RFC 5545, 3.3.5, form 1): 18:00 is six in the evening wherever the file
/// is opened. A cook turns the meat by the kitchen clock, and the zone of the kitchen is not known.
/// An entry keeps its UID as long as start, name, its key and its rank among those of the same
/// key stay, so that a calendar read again replaces entries that have moved. `now` [s, UTC] is
/// when the file is made. Throws base::RunError as calendar_text().
std::string icalendar(const std::vector<CalendarEntry>& entries, std::chrono::local_seconds start,
                      const std::string& name, std::chrono::sys_seconds now);

} // namespace tidemark::output
