// SPDX-License-Identifier: MIT
/// Reading and writing whole files; writing never leaves half a file behind.
#pragma once

#include <functional>
#include <string>
#include <string_view>

namespace tidemark::base {

/// The file's text. Throws InputError if it cannot be read, is empty, holds NUL bytes or is not
/// UTF-8. `where` heads the message. A byte-order mark and CR line ends are taken away.
std::string read_text(const std::string& path, const std::string& where);

/// Checks that `path` can be written (its folder exists and is writable), before any work is done.
/// Throws InputError.
void check_writable(const std::string& path, const std::string& where);

/// Lets `make` write to a file aside in the same folder, then renames it to `path`. If `make`
/// throws, or leaves no file, nothing is left behind. Throws RunError.
void write_aside(const std::string& path, const std::function<void(const std::string&)>& make);

} // namespace tidemark::base
