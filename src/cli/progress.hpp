// SPDX-License-Identifier: MIT
/// Shows on a terminal how far a slow answer has come; silent in a pipe and for quick ones.
#pragma once

#include <chrono>
#include <string>

namespace tidemark::cli {

/// One line on standard error, written over and wiped at the end.
class Progress {
public:
    explicit Progress(bool quiet = false);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    /// A share done [1], 0 to 1, and a word for the step.
    void operator()(double share, const std::string& step);

private:
    using Clock = std::chrono::steady_clock;
    bool terminal_;
    bool shown_ = false;
    Clock::time_point next_; ///< when to write again
};

} // namespace tidemark::cli
