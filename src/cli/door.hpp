// SPDX-License-Identifier: MIT
/// The one way out for what commands write to std::cout.
#pragma once

#include <streambuf>
#include <string>

namespace tidemark::cli {

/// While it stands, std::cout holds text back until it is flushed, and sends it as base::showable()
/// has it, whatever files and flags brought in. Signals of a reader that went away or of a file
/// that may not grow are off, so that a failed write is told where it happens. One at a time.
class Door : std::streambuf {
public:
    Door();
    ~Door() override;
    Door(const Door&) = delete;
    Door& operator=(const Door&) = delete;

    /// Sends what is left. Throws base::RunError if some of the answer could not be written; that
    /// nobody wanted to read on is none.
    void close();

private:
    int_type overflow(int_type c) override;
    std::streamsize xsputn(const char* text, std::streamsize count) override;
    int sync() override;

    std::streambuf* before_;
    std::string held_;
    int failed_ = 0; ///< of the system, at the first write that did not work
};

} // namespace tidemark::cli
