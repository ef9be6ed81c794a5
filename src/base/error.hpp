// SPDX-License-Identifier: MIT
/// The two ways a run can fail, and the one-line shape of every message.
#pragma once

#include <stdexcept>
#include <string>

namespace tidemark::base {

/// The user wrote something the tool cannot accept (exit 2). The message is one line:
/// "WHERE: VALUE: RULE; REMEDY". Any part may be empty and is then left out.
class InputError : public std::runtime_error {
public:
    InputError(const std::string& where, const std::string& value, const std::string& rule,
               const std::string& remedy);
};

/// Something failed while running (exit 1): a file that cannot be written, a solve that did not
/// converge. One line, no trailing full stop.
class RunError : public std::runtime_error {
    using std::runtime_error::runtime_error;
};

} // namespace tidemark::base
