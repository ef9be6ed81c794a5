// SPDX-License-Identifier: MIT
/// The calendar file is read by libical, a parser that is not ours, and held against what was put
/// in; the lines for the screen are worked out by hand. All entries are invented.
#include "common.hpp"
#include "output/calendar.hpp"

#include "base/calendar.hpp"
#include "base/error.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string/split.hpp>
#include <catch2/catch.hpp>
#include <libical/ical.h>

#include <algorithm>
#include <memory>
#include <set>

namespace calendar_test {

using namespace tidemark;
using output::CalendarEntry;
using test::day;
using test::hour;

namespace {

std::chrono::local_seconds moment(const std::string& text) {
    return base::parse_moment(text, "test");
}

const std::chrono::sys_seconds now{moment("2026-11-25 16:05:09").time_since_epoch()};

/// An event as libical understands it.
struct Event {
    std::string uid, stamp, start, end, title, detail;
    int alarms = 0;
    std::vector<std::string> dates = {}; ///< as often as it comes
};

std::string text_of(const char* text) {
    return text ? text : "";
}

struct Freed {
    void operator()(icalcomponent* c) const { icalcomponent_free(c); }
};

/// Reads a calendar file; nothing in it may be an error or break a rule of the standard.
std::vector<Event> read(const std::string& file, std::string* name = nullptr) {
    const std::unique_ptr<icalcomponent, Freed> calendar(icalparser_parse_string(file.c_str()));
    REQUIRE(calendar);
    CHECK(icalrestriction_check(calendar.get()) == 1);
    CHECK(icalcomponent_count_errors(calendar.get()) == 0);
    if (name) {
        *name = text_of(icalvalue_get_text(icalproperty_get_value(
            icalcomponent_get_first_property(calendar.get(), ICAL_NAME_PROPERTY))));
    }
    std::vector<Event> events;
    for (icalcomponent* c =
             icalcomponent_get_first_component(calendar.get(), ICAL_VEVENT_COMPONENT);
         c; c = icalcomponent_get_next_component(calendar.get(), ICAL_VEVENT_COMPONENT)) {
        const icaltimetype from = icalcomponent_get_dtstart(c);
        CHECK(from.zone == nullptr); // floating
        CHECK_FALSE(from.is_date);
        CHECK(icaltime_is_utc(icalcomponent_get_dtstamp(c)));
        events.push_back({text_of(icalcomponent_get_uid(c)),
                          text_of(icaltime_as_ical_string(icalcomponent_get_dtstamp(c))),
                          text_of(icaltime_as_ical_string(from)),
                          text_of(icaltime_as_ical_string(icalcomponent_get_dtend(c))),
                          text_of(icalcomponent_get_summary(c)),
                          text_of(icalcomponent_get_description(c)),
                          icalcomponent_count_components(c, ICAL_VALARM_COMPONENT)});
        icalcomponent_foreach_recurrence(
            c, icaltime_from_string("20200101T000000Z"), icaltime_from_string("20400101T000000Z"),
            [](icalcomponent*, icaltime_span* span, void* into) {
                static_cast<std::vector<std::string>*>(into)->push_back(icaltime_as_ical_string(
                    icaltime_from_timet_with_zone(span->start, 0, nullptr)));
            },
            &events.back().dates);
    }
    return events;
}

std::vector<std::string> lines_of(const std::string& text, char end = '\n') {
    std::vector<std::string> lines;
    boost::split(lines, text, [end](char c) { return c == end; });
    REQUIRE(lines.back().empty());
    lines.pop_back();
    return lines;
}

std::string repeated(const std::string& text, int times) {
    std::string out;
    for (int i = 0; i < times; ++i) {
        out += text;
    }
    return out;
}

} // namespace

TEST_CASE("libical reads back every start, title and detail", "[output]") {
    const std::vector<CalendarEntry> entries{
        {0, 0, "Into the brine", "3 °C, skin side down; keep it under; use a plate", true},
        {2.5 * hour, 90, "Commas, semicolons; back\\slashes\\n \\, \\; \"quotes\" : = ^",
         "a\nb\n\nc"},
        {1 * day, 0, "The leap day", "one\r\ntwo\rthree"},
        {2 * day, 3 * day, "The month after", repeated("größer, kälter;  ", 40) + "."},
        {5 * day, 0.4, repeated("塩", 90), repeated("🍖é", 60)},
        {400 * day, 30 * day, "", ""},
    };
    const char* starts[] = {"20280228T180000", "20280228T203000", "20280229T180000",
                            "20280301T180000", "20280304T180000", "20290403T180000"};
    const char* ends[] = {"20280228T180000", "20280228T203200", "20280229T180000",
                          "20280304T180000", "20280304T180000", "20290503T180000"};
    std::string name;
    const auto events = read(
        output::icalendar(entries, moment("2028-02-28 18:00"), "Loin, no. 1; test", now), &name);
    CHECK(name == "Loin, no. 1; test");
    REQUIRE(events.size() == entries.size());
    for (std::size_t i = 0; i < events.size(); ++i) {
        CAPTURE(i);
        CHECK(events[i].start == starts[i]);
        CHECK(events[i].end == ends[i]);
        CHECK(events[i].title == entries[i].title);
        CHECK(events[i].detail == (i == 2 ? "one\ntwo\nthree" : entries[i].detail));
        CHECK(events[i].stamp == "20261125T160509Z");
        CHECK(events[i].alarms == (i == 0 ? 1 : 0));
    }
}

TEST_CASE("what is done again and again is one event that comes every second day", "[output]") {
    CalendarEntry turn{2 * day, 0, "Turn", "", true, "stage 1 turn"};
    turn.times = 4;
    const std::vector<CalendarEntry> entries{{0, 9 * day, "In", "", true, "stage 1"}, turn};
    const auto events = read(output::icalendar(entries, moment("2028-02-26 18:00"), "Loin", now));
    REQUIRE(events.size() == 2);
    CHECK(events[0].dates == std::vector<std::string>{"20280226T180000"});
    CHECK(events[1].dates == std::vector<std::string>{"20280228T180000", "20280301T180000",
                                                      "20280303T180000", "20280305T180000"});
    CHECK(events[1].alarms == 1);
    turn.times = 7; // the same event, though it comes more often
    CHECK(read(output::icalendar({entries[0], turn}, moment("2028-02-26 18:00"), "Loin", now))
              .at(1)
              .uid == events[1].uid);
}

TEST_CASE("an entry is the same event when its title and its time have changed", "[output]") {
    const auto start = moment("2026-12-05 18:00");
    const auto before = read(output::icalendar(
        {{0, day, "Into the brine", "", true, "stage 1"}, {9 * day, 0, "Ready", "", true, "end"}},
        start, "n", now));
    const auto after =
        read(output::icalendar({{0, 2 * day, "Into the brine again", "", true, "stage 1"},
                                {12 * day, 0, "Not cured", "", true, "end"},
                                {12 * day, 0, "Not cured", "", true, "end"}},
                               start, "n", now));
    REQUIRE(after.size() == 3);
    CHECK(before[0].uid == after[0].uid);
    CHECK(before[1].uid == after[1].uid);
    CHECK(after[1].uid != after[2].uid); // two of a kind are two events
    CHECK(before[0].uid != before[1].uid);
}

TEST_CASE("texts of every length in bytes survive the folding of lines", "[output]") {
    std::vector<CalendarEntry> entries;
    for (int n = 0; n < 160; ++n) {
        entries.push_back({n * hour, 0, std::string(n, 'x') + "é塩🍖;é", repeated("🍖", n)});
    }
    const std::string file = output::icalendar(entries, moment("2026-12-05"), "n", now);
    for (const std::string& line : lines_of(file)) {
        REQUIRE(line.ends_with('\r'));
        CHECK(line.size() <= 76); // 75 octets and the CR (RFC 5545, 3.1)
        CHECK((line.size() < 2 || (line[1] & 0xC0) != 0x80 || line[0] != ' '));
        CHECK(std::ranges::count(line, '\r') == 1);
    }
    const auto events = read(file);
    REQUIRE(events.size() == entries.size());
    for (std::size_t i = 0; i < events.size(); ++i) {
        CHECK(events[i].title == entries[i].title);
        CHECK(events[i].detail == entries[i].detail);
    }
}

TEST_CASE("a calendar file is, line by line, what the standard asks for", "[output]") {
    CHECK(output::icalendar({{0, 2 * day, "Cure", "cold, wet; a\\b\nc", true}},
                            moment("2026-12-31 18:00"), "Loin", now) ==
          "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Tidemark//" TIDEMARK_VERSION "//EN\r\n"
          "NAME:Loin\r\nBEGIN:VEVENT\r\n"
          // uuid5 of Python's uuid module for "20261231T180000\n1\nCure\nLoin"
          "UID:f12368d9-f399-5d4c-b5a1-d6deac72d08b\r\nDTSTAMP:20261125T160509Z\r\nDTSTART:"
          "20261231T180000\r\n"
          "DTEND:20270102T180000\r\nSUMMARY:Cure\r\nDESCRIPTION:cold\\, wet\\; a\\\\b\\nc\r\n"
          "TRANSP:TRANSPARENT\r\nBEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:PT0S\r\n"
          "DESCRIPTION:Cure\r\nEND:VALARM\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n");
    CHECK(read(output::icalendar({{0, 0, "a\tb\x1b[1m", ""}}, moment("2026-12-31"), "", now))
              .at(0)
              .title == "a b [1m");
}

TEST_CASE("an entry keeps its UID when it moves, and no two share one", "[output]") {
    const auto uids = [](std::vector<CalendarEntry> entries, const std::string& start,
                         const std::string& name) {
        std::vector<std::string> list;
        for (const Event& e : read(output::icalendar(entries, moment(start), name, now))) {
            list.push_back(e.uid);
        }
        return list;
    };
    const std::vector<CalendarEntry> plan{
        {0, 0, "In", ""}, {day, 0, "Turn", ""}, {2 * day, 0, "Turn", ""}};
    const auto first = uids(plan, "2026-12-05", "Loin");
    CHECK(uids({plan[0], {1.2 * day, 60, "Turn", "moved"}, plan[2]}, "2026-12-05", "Loin") ==
          first);
    CHECK(uids({plan[2], plan[0], plan[1]}, "2026-12-05", "Loin") == first); // put in order
    std::set<std::string> all(first.begin(), first.end());
    for (const auto& other : {uids(plan, "2026-12-06", "Loin"), uids(plan, "2026-12-05", "Ham")}) {
        all.insert(other.begin(), other.end());
    }
    CHECK(all.size() == 9);
}

TEST_CASE("a schedule is shown by date, broken into lines of a screen", "[output]") {
    CHECK(output::calendar_text(
              {{2 * day, 0, "Take it out", ""}, {0, 2 * day, "Cure", "At 3 °C.\nTurn it daily."}},
              moment("2026-12-30 18:00")) == "Wed 30 Dec 2026 18:00  Cure. At 3 °C.\n"
                                             "                       Turn it daily.\n"
                                             "Fri 1 Jan 2027 18:00   Take it out\n");
    // An end with nothing behind it is said, and how it is kept only when that changes.
    CHECK(output::calendar_text({{0, day, "Cure", "", true, "a", "At 3 °C."},
                                 {day, day, "Rest", "", true, "b", "At 3 °C."},
                                 {2 * day, 0.5 * day, "Dry", "Hang it.", true, "c", "At 10 °C."}},
                                moment("2026-12-30 18:00")) ==
          "Wed 30 Dec 2026 18:00  Cure. At 3 °C.\n"
          "Thu 31 Dec 2026 18:00  Rest\n"
          "Fri 1 Jan 2027 18:00   Dry, until Sat 2 Jan 2027 06:00. Hang it. At 10 °C.\n");
    CHECK(output::calendar_text({{0, 0, " two\nlines ", "\n \n"}}, moment("2026-12-30")) ==
          "Wed 30 Dec 2026 00:00  two lines\n");
    CHECK(output::calendar_text({}, moment("2026-12-30")).empty());
}

TEST_CASE("no line of a schedule is longer than 80 characters", "[output]") {
    const std::string text = output::calendar_text(
        {{0, 0, repeated("wort ", 30), repeated("塩", 130) + " " + repeated("x", 57) + " y"}},
        moment("2026-11-25 09:00"));
    std::string rest;
    for (const std::string& line : lines_of(text)) {
        CHECK(output::width_of(line) <= 80);
        rest += line.substr(std::min<std::size_t>(23, line.size()));
    }
    std::erase(rest, ' ');
    CHECK(rest == repeated("wort", 30) + '.' + repeated("塩", 130) + repeated("x", 57) + "y");
}

TEST_CASE("a time that no calendar has is an error of the run", "[output]") {
    const std::vector<CalendarEntry> late{{1e13, 0, "never", ""}};
    CHECK_THROWS_AS(output::calendar_text(late, moment("2026-12-30")), base::RunError);
    CHECK_THROWS_AS(output::icalendar(late, moment("2026-12-30"), "n", now), base::RunError);
}

} // namespace calendar_test
