// SPDX-License-Identifier: MIT
/// Reads a log from CSV text, one row per reading, then puts its clock right and looks for gaps.
#include "cure/cooler_log.hpp"

#include "base/calendar.hpp"
#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string/case_conv.hpp>
#include <boost/algorithm/string/erase.hpp>
#include <boost/algorithm/string/replace.hpp>
#include <boost/algorithm/string/split.hpp>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <sstream>

namespace tidemark::cure {
namespace {

using base::InputError;

constexpr double hour = 3600;
// -5 to 20 C [K], our judgement; a hair wider, so that 23 F and 68 F are within after rounding.
constexpr double lowest = 268.15 - 1e-9, highest = 293.15 + 1e-9;

struct Row {
    double time = 0;        // [s]
    double temperature = 0; // [K]
    int line = 0;
    std::string time_text, value; // as written
};

/// What the first line says.
struct Header {
    std::string time;   // "time", "hours" or "days"; empty until read
    std::string unit;   // "C", "F" or "K"
    char between = ','; // or what a spreadsheet puts there: a semicolon, a tab
};

Header header_of(const std::string& line, const std::string& where) {
    const std::string said =
        boost::erase_all_copy(boost::to_lower_copy(boost::erase_all_copy(line, "°")), " ");
    const auto at = line.find_first_of(",;\t");
    const char between = at == std::string::npos ? ',' : line[at];
    for (const std::string time : {"time", "hours", "days"}) {
        for (const std::string unit : {"C", "F", "K"}) {
            if (said == time + between + "temperature[" + boost::to_lower_copy(unit) + "]") {
                return {time, unit, between};
            }
        }
    }
    throw InputError(where, line, "the first line must be: time,temperature [C]",
                     "name the unit in brackets: C, F or K; write hours or days for time where it "
                     "is a number");
}

Row row_of(const std::string& line, int number, const Header& header, const std::string& where) {
    std::vector<std::string> fields;
    boost::algorithm::split(fields, line, [&](char c) { return c == header.between; });
    if (header.between != ',') { // where decimals are written with commas
        for (std::string& field : fields) {
            boost::replace_all(field, ",", ".");
        }
    }
    if (fields.size() != 2) {
        throw InputError(where, line, "has " + std::to_string(fields.size()) + " fields, not 2",
                         header.between == ','
                             ? "write time,temperature with decimal points"
                             : "write a time and a temperature, parted as in the first line");
    }
    Row row{0, 0, number, base::trim(fields[0]), base::trim(fields[1])};
    if (header.time == "time") {
        const auto moment = base::parse_moment(row.time_text, where);
        row.time = static_cast<double>(moment.time_since_epoch().count());
    } else {
        row.time = base::to_si(base::parse(row.time_text, base::Dimension::number, where),
                               header.time, base::Dimension::duration);
        if (!std::isfinite(row.time)) {
            throw InputError(where, row.time_text, "is beyond the range of numbers",
                             "check the number");
        }
        row.time_text += ' ' + header.time;
    }
    const double value = base::parse(row.value, base::Dimension::number, where);
    row.temperature = base::to_si(value, header.unit, base::Dimension::temperature);
    return row;
}

class Reader {
public:
    Reader(std::vector<Row> rows, Header header, const std::string& file)
        : rows_(std::move(rows)), header_(std::move(header)), file_(file) {}

    CoolerLog read() {
        check_temperatures();
        straighten();
        for (const Row& row : rows_) {
            log_.time.push_back(row.time - rows_.front().time);
            log_.temperature.push_back(row.temperature);
        }
        if (dated()) {
            log_.start.emplace(std::chrono::seconds(std::llround(rows_.front().time)));
        }
        return std::move(log_);
    }

private:
    bool dated() const { return header_.time == "time"; }
    std::string where(const Row& row) const { return file_ + ':' + std::to_string(row.line); }

    static bool fits(double temperature) { return temperature >= lowest && temperature <= highest; }

    /// The unit in which most readings are those of a cooler; the header's own among equals.
    std::string likely_unit() const {
        std::string likely;
        std::ptrdiff_t most = -1;
        for (const std::string& unit :
             {header_.unit, std::string("C"), std::string("F"), std::string("K")}) {
            const auto count = std::ranges::count_if(rows_, [&](const Row& row) {
                const double value = base::parse(row.value, base::Dimension::number, "");
                return fits(base::to_si(value, unit, base::Dimension::temperature));
            });
            if (count > most) {
                most = count;
                likely = unit;
            }
        }
        return likely;
    }

    void check_temperatures() const {
        const auto bad = std::ranges::find_if_not(rows_, fits, &Row::temperature);
        if (bad == rows_.end()) {
            return;
        }
        const std::string range = "lies outside -5 to 20 °C (23 to 68 °F)", likely = likely_unit();
        const bool other =
            likely != header_.unit; // said with care: it may be a warm room after all
        throw InputError(where(*bad), bad->value + ' ' + header_.unit,
                         range + (other ? ", but looks like " + likely : ""),
                         other
                             ? "if that is so, write temperature [" + likely + "] in the first line"
                             : "take out what was read with the probe outside the cooler");
    }

    /// The median: neither a gap nor a change of the clock moves it.
    double usual_interval() const {
        std::vector<double> steps;
        for (std::size_t i = 1; i < rows_.size(); ++i) {
            steps.push_back(rows_[i].time - rows_[i - 1].time);
        }
        std::ranges::nth_element(steps, steps.begin() + steps.size() / 2);
        return steps[steps.size() / 2];
    }

    /// Whether clocks may be changed after `time` [s]: in the first four hours of a Sunday of these
    /// months, for both halves of the world. Common practice, no source.
    static bool may_change(double time, std::initializer_list<std::chrono::month> months) {
        namespace c = std::chrono;
        const c::local_seconds moment{c::seconds(std::llround(time))};
        const auto day = c::floor<c::days>(moment);
        return c::weekday(day) == c::Sunday && moment - day < c::hours(4) &&
               std::ranges::count(months, c::year_month_day(day).month()) > 0;
    }

    void straighten() {
        namespace c = std::chrono;
        const double usual = usual_interval(), slack = std::min(usual / 4, 300.0);
        const bool tells = dated() && usual <= hour; // whether the steps tell of the clock
        bool put_back = false, put_on = false;
        double shift = 0, written = rows_.front().time;
        for (std::size_t i = 1; i < rows_.size(); ++i) {
            const Row& before = rows_[i - 1];
            Row& row = rows_[i];
            const double step = row.time - written, jump = step - usual;
            if (tells && !put_back && step <= 0 && std::abs(jump + hour) <= slack &&
                may_change(written, {c::March, c::April, c::October, c::November})) {
                put_back = true;
                shift += hour;
                remark(row, "the clock goes back an hour, as when summer time ends; the readings "
                            "from here on are taken an hour later");
            } else if (tells && !put_on && std::abs(jump - hour) <= slack &&
                       may_change(written, {c::March, c::September, c::October})) {
                put_on = true;
                shift -= hour;
                remark(row, "the clock goes on an hour, as when summer time begins; the readings "
                            "from here on are taken an hour earlier");
            }
            written = row.time;
            row.time += shift;
            check_step(before, row, usual);
        }
    }

    void check_step(const Row& before, const Row& row, double usual) {
        const double step = row.time - before.time;
        if (step <= 0) {
            throw InputError(
                where(row), row.time_text,
                "is not later than the line before it, " + before.time_text,
                "put them in order of time, each time once; if the clock was put back, "
                "add what it lost to the rest");
        }
        const std::string hours = base::significant(step / hour, 3) + " h";
        if (step > 48 * hour) {
            throw InputError(
                where(row), row.time_text,
                "no reading for " + hours + ", since " + before.time_text,
                "at most 48 h can be bridged: add what is known, or begin the log here");
        }
        if (step > std::max(3 * usual, 6 * hour)) {
            remark(row, "no reading from " + before.time_text + " to " + row.time_text + " (" +
                            hours + "); bridged by a straight line");
        }
    }

    void remark(const Row& row, const std::string& text) {
        log_.remarks.push_back(where(row) + ": " + text);
    }

    std::vector<Row> rows_;
    Header header_;
    const std::string& file_;
    CoolerLog log_;
};

} // namespace

CoolerLog cooler_log_from_csv(const std::string& text, const std::string& file_name) {
    std::istringstream lines(text);
    std::string raw;
    Header header;
    std::vector<Row> rows;
    for (int number = 1; std::getline(lines, raw); ++number) {
        const std::string line = base::trim(raw);
        if (line.empty() || line.front() == '#') {
            continue;
        }
        const std::string where = file_name + ':' + std::to_string(number);
        if (header.time.empty()) {
            header = header_of(line, where);
        } else {
            rows.push_back(row_of(line, number, header, where));
        }
    }
    if (rows.size() < 2) {
        throw InputError(file_name, "", rows.empty() ? "has no reading" : "has one reading",
                         header.time.empty() ? "begin with the line time,temperature [C]"
                                             : "give two or more, or a steady temperature instead");
    }
    return Reader(std::move(rows), header, file_name).read();
}

} // namespace tidemark::cure
