// SPDX-License-Identifier: MIT
/// Both forms are written line by line; section numbers are of RFC 5545, from memory.
#include "output/calendar.hpp"

#include "base/calendar.hpp"
#include "base/text.hpp"
#include "output/screen.hpp"

#include <boost/algorithm/string/classification.hpp>
#include <boost/algorithm/string/replace.hpp>
#include <boost/algorithm/string/split.hpp>
#include <boost/uuid/name_generator_sha1.hpp>
#include <boost/uuid/string_generator.hpp>
#include <boost/uuid/uuid_io.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace tidemark::output {
namespace {

using std::chrono::local_seconds;

bool continues(char c) { // a byte within a UTF-8 character
    return (c & 0xC0) == 0x80;
}

std::vector<CalendarEntry> by_time(std::vector<CalendarEntry> entries) {
    std::ranges::stable_sort(entries, {}, &CalendarEntry::time);
    return entries;
}

/// One kind of line end, and no other control characters: neither a screen nor a TEXT (3.3.11) may
/// hold them.
std::string cleaned(std::string text) {
    boost::replace_all(text, "\r\n", "\n");
    boost::replace_all(text, "\r", "\n");
    return base::showable(text, true);
}

/// As wrapped(), with words longer than a line broken, too.
std::vector<std::string> broken(const std::string& text, std::size_t width) {
    std::string loose;
    std::size_t used = 0;
    for (const char c : text) {
        if (c == ' ') {
            used = 0;
        } else if (!continues(c) && ++used > width) {
            loose += ' ';
            used = 1;
        }
        loose += c;
    }
    return wrapped(loose, width);
}

std::string date_time(local_seconds moment) { // 3.3.5
    return base::format_moment(moment, "%Y%m%dT%H%M%S");
}

std::string escaped(const std::string& text) { // 3.3.11
    std::string out;
    for (const char c : cleaned(text)) {
        if (c == '\n') {
            out += "\\n";
        } else {
            out += (c == '\\' || c == ';' || c == ',' ? "\\" : "") + std::string(1, c);
        }
    }
    return out;
}

/// A content line, folded so that no line has more than 75 octets (3.1), between characters.
std::string folded(const std::string& line) {
    std::string out;
    std::size_t used = 0;
    for (std::size_t i = 0; i < line.size();) {
        const auto next =
            std::find_if_not(line.begin() + i + 1, line.end(), continues) - line.begin();
        const std::size_t size = static_cast<std::size_t>(next) - i;
        if (used + size > 75) {
            out += "\r\n ";
            used = 1;
        }
        out.append(line, i, size);
        used += size;
        i += size;
    }
    return out + "\r\n";
}

} // namespace

std::string calendar_text(const std::vector<CalendarEntry>& entries, local_seconds start,
                          std::size_t columns) {
    // "Wed 25 Nov 2026 17:30" and two spaces; on a narrow screen what is done stands below.
    const std::size_t margin = columns < 60 ? 4 : 23;
    Shown shown;
    shown.columns = columns;
    Screen screen(shown);
    std::string kept;
    for (const CalendarEntry& entry : by_time(entries)) {
        std::string head = base::show_moment(base::minute_after(start, entry.time));
        if (margin < width_of(head)) {
            screen.line(head);
            head.clear();
        }
        const auto lines = [&](const std::string& text) {
            for (const std::string& part : broken(text, columns - margin)) {
                screen.line(filled(head, margin) + part);
                head.clear();
            }
        };
        std::string text = base::trim(boost::replace_all_copy(cleaned(entry.title), "\n", " "));
        const double end = entry.time + entry.length;
        const auto begins = [&](const CalendarEntry& e) { // to the minute, as shown
            return std::abs(e.time - end) < 30;
        };
        if (entry.length > 0 && std::ranges::none_of(entries, begins))
            text += ", until " + base::show_moment(base::minute_after(start, end));
        CalendarEntry shown_here = entry;
        shown_here.aside.clear();
        if (entry.kept == kept)
            shown_here.kept.clear();
        const std::string detail = cleaned(shown_here.whole_detail());
        if (!entry.kept.empty())
            kept = entry.kept;
        std::vector<std::string> paragraphs;
        boost::split(paragraphs, detail, boost::is_any_of("\n"));
        bool first = true;
        for (const std::string& paragraph : paragraphs) {
            const std::string trimmed = base::trim(paragraph);
            if (first) {
                lines(text + (trimmed.empty() ? "" : ". " + trimmed));
            } else if (!trimmed.empty()) {
                lines(trimmed);
            }
            first = false;
        }
    }
    return screen.text();
}

std::string icalendar(const std::vector<CalendarEntry>& entries, local_seconds start,
                      const std::string& name, std::chrono::sys_seconds now) {
    // Drawn at random once for this project.
    const boost::uuids::name_generator_sha1 uid(
        boost::uuids::string_generator()("f8b0f573-6951-4348-8855-50a7eeef1684"));
    std::map<std::string, int> rank;
    std::string text;
    const auto line = [&](const std::string& content) { text += folded(content); };
    const auto said = [&](const std::string& property, const std::string& value) {
        if (!value.empty()) { // some readers take a property without a value for an error
            line(property + ':' + escaped(value));
        }
    };
    line("BEGIN:VCALENDAR");
    line("VERSION:2.0");
    line("PRODID:-//Tidemark//" TIDEMARK_VERSION "//EN");
    said("NAME", name); // RFC 7986, 5.1
    for (const CalendarEntry& entry : by_time(entries)) {
        const std::string from = date_time(base::minute_after(start, entry.time));
        line("BEGIN:VEVENT");
        const std::string& key = entry.key.empty() ? entry.title : entry.key;
        line("UID:" + to_string(uid(date_time(start) + '\n' + std::to_string(++rank[key]) + '\n' +
                                    key + '\n' + name)));
        line("DTSTAMP:" + date_time(local_seconds(now.time_since_epoch())) + 'Z');
        line("DTSTART:" + from);
        if (entry.length > 0) { // the end, not DURATION, which counts elapsed seconds (3.3.6)
            const std::string to = date_time(base::minute_after(start, entry.time + entry.length));
            if (to > from) { // 3.8.2.2
                line("DTEND:" + to);
            }
        }
        if (entry.times > 1) // 3.8.5.3
            line("RRULE:FREQ=DAILY;INTERVAL=2;COUNT=" + std::to_string(entry.times));
        said("SUMMARY", entry.title);
        said("DESCRIPTION", entry.whole_detail());
        line("TRANSP:TRANSPARENT"); // meat in the cooler keeps nobody busy
        if (entry.by_hand) {
            line("BEGIN:VALARM");
            line("ACTION:DISPLAY");
            line("TRIGGER:PT0S");
            said("DESCRIPTION", entry.title);
            line("END:VALARM");
        }
        line("END:VEVENT");
    }
    line("END:VCALENDAR");
    return text;
}

} // namespace tidemark::output
