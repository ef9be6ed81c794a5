// SPDX-License-Identifier: MIT
/// A disk that fills up, and a program that is killed, at one chosen step of writing a file: put
/// before the system's own functions by LD_PRELOAD. TIDEMARK_BREAK is the step (write, fsync or
/// rename) and what happens there (full or kill); a write gets half of its bytes out first.
/// Standard streams and pipes are left alone. For Linux with glibc.
#include <dlfcn.h>
#include <signal.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <string_view>

namespace {

/// Whether `step` is to break; a program that is to be killed there does not come back.
bool breaks(std::string_view step) {
    const char* text = std::getenv("TIDEMARK_BREAK");
    const std::string_view wanted = text ? text : "";
    if (!wanted.starts_with(step)) {
        return false;
    }
    if (wanted.ends_with("kill")) {
        kill(getpid(), SIGKILL);
    }
    errno = ENOSPC;
    return true;
}

bool ordinary(int file) {
    struct stat status {};
    return file > STDERR_FILENO && fstat(file, &status) == 0 && S_ISREG(status.st_mode);
}

template <class Function> Function* system_own(const char* name) {
    return reinterpret_cast<Function*>(dlsym(RTLD_NEXT, name));
}

} // namespace

extern "C" {

ssize_t write(int file, const void* bytes, size_t count) {
    static auto* const own = system_own<ssize_t(int, const void*, size_t)>("write");
    static bool half_out = false;
    const char* text = std::getenv("TIDEMARK_BREAK");
    if (text && std::string_view(text).starts_with("write") && ordinary(file) && count > 1) {
        if (!half_out) {
            half_out = true;
            const ssize_t put = own(file, bytes, count / 2);
            if (std::string_view(text).ends_with("kill")) {
                kill(getpid(), SIGKILL);
            }
            return put;
        }
        breaks("write");
        return -1;
    }
    return own(file, bytes, count);
}

int fsync(int file) {
    return breaks("fsync") ? -1 : system_own<int(int)>("fsync")(file);
}

int rename(const char* from, const char* to) {
    return breaks("rename") ? -1 : system_own<int(const char*, const char*)>("rename")(from, to);
}
}
