// SPDX-License-Identifier: MIT
/// Whole files in and out. Assumes POSIX: an atomic rename within one folder.
#include "base/file.hpp"

#include "base/error.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string/replace.hpp>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <filesystem>
#include <system_error>
#include <utility>

namespace tidemark::base {
namespace {

namespace fs = std::filesystem;

/// Closes what it holds.
struct Descriptor {
    int number;
    explicit Descriptor(int opened) : number(opened) {}
    ~Descriptor() {
        if (number >= 0) {
            close(number);
        }
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
};

std::string reason(int error) {
    return std::generic_category().message(error);
}

/// By the last error of the system.
RunError not_written(const std::string& path) {
    return RunError(path + ": could not be written: " + reason(errno));
}

/// The file behind `path`, links followed, so that a link stays a link when its target is replaced.
fs::path target_of(const std::string& path) {
    std::error_code failed;
    const fs::path target = fs::weakly_canonical(fs::absolute(path), failed);
    return failed ? fs::absolute(path) : target;
}

/// Why a file cannot be put in place of `target`, or "".
std::string obstacle(const fs::path& target) {
    std::error_code ignored;
    const fs::file_status status = fs::status(target, ignored);
    if (fs::is_directory(status)) {
        return "is a folder";
    }
    if (fs::exists(status) && !fs::is_regular_file(status)) {
        return "is not an ordinary file";
    }
    if (!fs::is_directory(target.parent_path(), ignored)) {
        return "is in a folder that does not exist";
    }
    if (access(target.parent_path().c_str(), W_OK) != 0) {
        return "is in a folder that cannot be written to";
    }
    if (fs::exists(status) && access(target.c_str(), W_OK) != 0) {
        return "is write-protected";
    }
    return "";
}

void put(int file, const std::string& bytes, const std::string& path) {
    for (std::size_t done = 0; done < bytes.size();) {
        const ssize_t count = write(file, bytes.data() + done, bytes.size() - done);
        if (count < 0 && errno != EINTR) {
            throw not_written(path);
        }
        done += static_cast<std::size_t>(std::max<ssize_t>(count, 0));
    }
}

/// What came in, up to a little more than `most` [bytes] where that is more than before.
const std::string& standard_input(std::size_t most) {
    static std::string bytes;
    std::array<char, 1 << 12> part;
    for (ssize_t got = 1; got > 0 && bytes.size() <= most;) {
        got = read(STDIN_FILENO, part.data(), part.size());
        if (got < 0 && errno == EINTR) {
            got = 1;
            continue;
        }
        bytes.append(part.data(), static_cast<std::size_t>(std::max<ssize_t>(got, 0)));
    }
    return bytes;
}

} // namespace

std::string read_bytes(const std::string& path, const std::string& where, std::size_t most) {
    check_showable(path, where);
    const auto too_large = [&] {
        return InputError(where, path, "is larger than " + std::to_string(most / kilobyte) + " kB",
                          "is it the right file? if so, keep the part that counts");
    };
    if (path == standard_stream) {
        const std::string& bytes = standard_input(most);
        if (bytes.size() > most) {
            throw too_large();
        }
        return bytes;
    }
    // A pipe without a writer is opened at once and then refused.
    const Descriptor file(open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
    struct stat status {};
    if (file.number < 0 || fstat(file.number, &status) != 0) {
        throw InputError(where, path, "cannot be read",
                         errno == ENOENT ? "no such file" : "check its permissions");
    }
    if (S_ISDIR(status.st_mode)) {
        throw InputError(where, path, "is a folder", "name a file");
    }
    if (!S_ISREG(status.st_mode)) {
        throw InputError(where, path, "is not an ordinary file", "name a file");
    }
    const auto told = static_cast<std::size_t>(std::max<off_t>(0, status.st_size));
    std::string bytes;
    std::array<char, 1 << 16> part;
    for (ssize_t got = 1; got != 0 && told <= most && bytes.size() <= most;) {
        got = read(file.number, part.data(), part.size());
        if (got < 0 && errno != EINTR) {
            throw InputError(where, path, "cannot be read", reason(errno));
        }
        bytes.append(part.data(), static_cast<std::size_t>(std::max<ssize_t>(got, 0)));
    }
    if (std::max(told, bytes.size()) > most) {
        throw too_large();
    }
    return bytes;
}

std::string read_text(const std::string& path, const std::string& where, std::size_t most) {
    std::string text = read_bytes(path, where, most);
    if (text.starts_with("\xEF\xBB\xBF")) {
        text.erase(0, 3);
    }
    if (text.find('\0') != std::string::npos) {
        throw InputError(where, path, "holds NUL bytes", "save it as plain UTF-8 text");
    }
    if (!is_utf8(text)) {
        throw InputError(where, path, "is not UTF-8", "save it as plain UTF-8 text");
    }
    if (trim(text).empty()) {
        throw InputError(where, path, "is empty", "name another file, or fill this one");
    }
    boost::replace_all(text, "\r\n", "\n");
    boost::replace_all(text, "\r", "\n");
    return text;
}

void check_writable(const std::string& path, const std::string& where) {
    if (path.empty()) {
        throw InputError(where, "", "names no file", "give a file name");
    }
    if (path == standard_stream) {
        return;
    }
    check_showable(path, where);
    if (const std::string why = obstacle(target_of(path)); !why.empty()) {
        throw InputError(where, path, why, "name a file that can be written");
    }
}

void write_all(int file, const std::string& bytes, const std::string& path) {
    put(file, bytes, path);
    if (fsync(file) != 0) {
        throw not_written(path);
    }
}

void write_file(const std::string& path, const std::string& bytes) {
    if (path == standard_stream) {
        try {
            put(STDOUT_FILENO, bytes, "standard output");
        } catch (const RunError&) {
            if (errno != EPIPE) { // that nobody wants to read on is no failure
                throw;
            }
        }
        return;
    }
    const fs::path target = target_of(path);
    if (const std::string why = obstacle(target); !why.empty()) {
        throw RunError(path + ": " + why);
    }
    fs::path aside = target;
    aside.replace_filename(".tidemark-" + std::to_string(getpid()));
    try {
        Descriptor file(open(aside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666));
        if (file.number < 0) {
            throw not_written(path);
        }
        write_all(file.number, bytes, path);
        if (close(std::exchange(file.number, -1)) != 0 ||
            rename(aside.c_str(), target.c_str()) != 0) {
            throw not_written(path);
        }
    } catch (...) {
        unlink(aside.c_str());
        throw;
    }
}

} // namespace tidemark::base
