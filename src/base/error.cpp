// SPDX-License-Identifier: MIT
/// Puts the parts of a message together on one line.
#include "base/error.hpp"

#include "base/text.hpp"

namespace tidemark::base {
namespace {

constexpr std::size_t longest_value = 200; ///< shown [characters]

std::string message(const std::string& where, const std::string& value, const std::string& rule,
                    const std::string& remedy) {
    std::string line = where;
    for (const std::string& part : {shortened(value, longest_value), rule}) {
        line += (line.empty() || part.empty() ? "" : ": ") + part;
    }
    line += (line.empty() || remedy.empty() ? "" : "; ") + remedy;
    return showable(line); // values are the user's own text
}

} // namespace

InputError::InputError(const std::string& where, const std::string& value, const std::string& rule,
                       const std::string& remedy)
    : std::runtime_error(message(where, value, rule, remedy)) {}

} // namespace tidemark::base
