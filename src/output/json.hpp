// SPDX-License-Identifier: MIT
/// An answer as one JSON object, for other programs. Units stand in the names of the members, and
/// the same member means the same in every command.
#pragma once

#include "cure/picture.hpp"
#include "inference/answer.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// The object as text, two spaces deep, doubles with all their digits (days, percent by mass, ppm
/// by mass, mm to a thousandth, kg). What is not finite or not known is null. Records keep the unit
/// they have in the records. What is told of one piece stands in the object itself; of several, in
/// "pieces". `change_command`: what to type for the change found; `by_day`: of each piece, or left
/// out.
std::string json(const std::string& command, const inference::Answer& answer,
                 const std::string& change_command = "",
                 const std::vector<cure::ByDay>& by_day = {});

} // namespace tidemark::output
