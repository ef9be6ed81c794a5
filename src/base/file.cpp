// SPDX-License-Identifier: MIT
/// Whole files in and out. Assumes POSIX: access() and an atomic rename within one folder.
#include "base/file.hpp"

#include "base/error.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string/replace.hpp>
#include <boost/locale/utf.hpp>

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <system_error>

namespace tidemark::base {
namespace {

namespace fs = std::filesystem;

bool is_utf8(const std::string& text) {
    using Utf8 = boost::locale::utf::utf_traits<char>;
    for (auto at = text.begin(); at != text.end();) {
        if (!boost::locale::utf::is_valid_codepoint(Utf8::decode(at, text.end()))) {
            return false;
        }
    }
    return true;
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

} // namespace

std::string read_text(const std::string& path, const std::string& where) {
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) {
        throw InputError(where, path, "is a folder", "name a file");
    }
    std::ifstream in(path, std::ios::binary);
    if (!in) {
        throw InputError(where, path, "cannot be read",
                         fs::exists(path, ignored) ? "check its permissions" : "no such file");
    }
    std::string text{std::istreambuf_iterator<char>(in), {}};
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
    if (const std::string why = obstacle(target_of(path)); !why.empty()) {
        throw InputError(where, path, why, "name a file that can be written");
    }
}

void write_aside(const std::string& path, const std::function<void(const std::string&)>& make) {
    const fs::path target = target_of(path);
    if (const std::string why = obstacle(target); !why.empty()) {
        throw RunError(path + ": " + why);
    }
    // The extension stays last: some writers choose the format by it.
    fs::path aside = target;
    aside.replace_filename(target.stem().string() + ".part-" + std::to_string(getpid()) +
                           target.extension().string());
    std::error_code failed;
    try {
        make(aside.string());
    } catch (...) {
        fs::remove(aside, failed);
        throw;
    }
    if (!fs::exists(aside, failed)) {
        throw RunError(path + ": nothing was written");
    }
    fs::rename(aside, target, failed);
    if (failed) {
        const std::string why = failed.message();
        fs::remove(aside, failed);
        throw RunError(path + ": cannot be put in place: " + why);
    }
}

} // namespace tidemark::base
