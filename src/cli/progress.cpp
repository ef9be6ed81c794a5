// SPDX-License-Identifier: MIT
/// The first line comes after half a second, then five a second.
#include "cli/progress.hpp"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <iostream>

namespace tidemark::cli {

using namespace std::chrono_literals;

namespace {
constexpr const char* wipe = "\r\033[K"; // to the start of the line, and clear it
}

Progress::Progress(bool quiet)
    : terminal_(!quiet && isatty(STDERR_FILENO) != 0), next_(Clock::now() + 500ms) {}

Progress::~Progress() {
    if (shown_) {
        std::cerr << wipe << std::flush;
    }
}

void Progress::operator()(double share, const std::string& step) {
    if (!terminal_ || Clock::now() < next_) {
        return;
    }
    std::cerr << wipe << std::lround(100 * std::clamp(share, 0., 1.)) << " %  " << step
              << std::flush;
    shown_ = true;
    next_ = Clock::now() + 200ms;
}

} // namespace tidemark::cli
