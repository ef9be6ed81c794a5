// SPDX-License-Identifier: MIT
/// Puts the parts of a message together on one line.
#include "base/error.hpp"

#include <algorithm>

namespace tidemark::base {
namespace {

std::string message(const std::string& where, const std::string& value, const std::string& rule,
                    const std::string& remedy) {
    std::string line = where;
    for (const std::string& part : {value, rule}) {
        line += (line.empty() || part.empty() ? "" : ": ") + part;
    }
    line += (line.empty() || remedy.empty() ? "" : "; ") + remedy;
    // Values are the user's own text: a line break or an escape code must not reach the terminal.
    std::replace_if(
        line.begin(), line.end(), [](unsigned char c) { return c < ' ' || c == 127; }, ' ');
    return line;
}

} // namespace

InputError::InputError(const std::string& where, const std::string& value, const std::string& rule,
                       const std::string& remedy)
    : std::runtime_error(message(where, value, rule, remedy)) {}

} // namespace tidemark::base
