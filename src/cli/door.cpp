// SPDX-License-Identifier: MIT
#include "cli/door.hpp"

#include "base/error.hpp"
#include "base/text.hpp"

#include <fcntl.h>
#include <signal.h>
#include <unistd.h>

#include <cerrno>
#include <iostream>
#include <system_error>

namespace tidemark::cli {

Door::Door() {
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
    // Where standard output is shut, no other file may come to stand in its place.
    int file = 0;
    while (file >= 0 && file <= STDERR_FILENO) {
        file = open("/dev/null", O_RDONLY | O_CLOEXEC);
    }
    ::close(file);
    before_ = std::cout.rdbuf(this);
}

Door::~Door() {
    sync();
    std::cout.rdbuf(before_);
}

void Door::close() {
    sync();
    if (failed_ != 0 && failed_ != EPIPE) {
        throw base::RunError("the answer could not be written to standard output: " +
                             std::generic_category().message(failed_));
    }
}

Door::int_type Door::overflow(int_type c) {
    if (!traits_type::eq_int_type(c, traits_type::eof())) {
        held_ += traits_type::to_char_type(c);
    }
    return traits_type::not_eof(c);
}

std::streamsize Door::xsputn(const char* text, std::streamsize count) {
    held_.append(text, static_cast<std::size_t>(count));
    return count;
}

int Door::sync() {
    const std::string text = base::showable(held_, true);
    held_.clear();
    for (std::size_t done = 0; done < text.size() && failed_ == 0;) {
        const ssize_t put = write(STDOUT_FILENO, text.data() + done, text.size() - done);
        if (put >= 0) {
            done += static_cast<std::size_t>(put);
        } else if (errno != EINTR) {
            failed_ = errno;
        }
    }
    return failed_ == 0 ? 0 : -1;
}

} // namespace tidemark::cli
