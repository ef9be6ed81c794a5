// SPDX-License-Identifier: MIT
/// An answer as one JSON object, for other programs. Units stand in the names of the members, and
/// the same member means the same in every command.
#pragma once

#include "cure/picture.hpp"
#include "output/view.hpp"

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

/// The same of every other kind of answer; `command` shows the way chosen, `meat` is for the next.
std::string json(const cure::Choice& choice, const inference::Ways& ways,
                 const std::string& command);
std::string json(const cure::BrineSheet& sheet, const AskedMeat& meat);
std::string json(const LearnAnswer& answer);
std::string json(const inference::Why& why);

/// Of a question that could not be answered: the dangers and no answer.
std::string json(const std::string& command, const judge::Findings& findings);
/// The records of these keys, with the works that they name.
std::string json(const base::Records& records, const std::vector<std::string>& keys);

} // namespace tidemark::output
