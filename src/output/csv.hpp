// SPDX-License-Identifier: MIT
/// Profiles as a table for a spreadsheet (RFC 4180: a header line, commas, CR LF).
#pragma once

#include "cure/picture.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// The table, one row per sample: days, mm, the tissue, percent and ppm by mass of the tissue. Nine
/// significant digits; a value that is not finite is an empty field. The last column has what can
/// hurt people, on every row, so that no part of the table is without it.
std::string csv(const std::vector<cure::Sample>& samples, const judge::Findings& findings);

/// A piece, or a way to cure it, and its readings in time.
struct Course {
    std::string name;
    std::vector<cure::Reading> readings;
};

/// The table of courses, one row per reading, in the same form: the name, days, percent and ppm by
/// mass.
std::string course_csv(const std::vector<Course>& courses, const judge::Findings& findings);

} // namespace tidemark::output
