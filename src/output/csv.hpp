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

} // namespace tidemark::output
