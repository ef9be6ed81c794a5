// SPDX-License-Identifier: MIT
/// Reading and writing whole files. Reading has an end; writing never leaves half a file behind.
#pragma once

#include <cstddef>
#include <functional>
#include <string>

namespace tidemark::base {

constexpr std::size_t kilobyte = 1000; ///< [bytes]

/// Stands for standard input where a file is read, and for standard output where one is written.
inline const std::string standard_stream = "-";

/// The bytes of an ordinary file, or of standard input, which is the same however often it is asked
/// for. Throws InputError, headed by `where`, if it cannot be read, is no
/// ordinary file (a pipe or a device may never end), or is larger than `most` [bytes].
std::string read_bytes(const std::string& path, const std::string& where, std::size_t most);

/// The text of a file. As read_bytes(), and throws InputError if it is empty, holds NUL bytes or is
/// not UTF-8. A byte-order mark and CR line ends are taken away.
std::string read_text(const std::string& path, const std::string& where, std::size_t most);

/// Checks that `path` can be written (it is standard output, or its name is plain, its folder
/// exists and is writable), before any work is done. Throws InputError.
void check_writable(const std::string& path, const std::string& where);

/// Writes `bytes` to standard output, or to a file aside in the same folder, waits until they are
/// on the disk, then renames it to `path`. If any of that fails, what stood there stays, and
/// nothing else is left behind. Throws RunError, but not for a standard output nobody reads on.
void write_file(const std::string& path, const std::string& bytes);

/// Writes all of `bytes` to an open file. Throws RunError, with the name `path`.
void write_all(int file, const std::string& bytes, const std::string& path);

} // namespace tidemark::base
