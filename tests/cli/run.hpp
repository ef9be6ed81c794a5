// SPDX-License-Identifier: MIT
/// Runs the built program the way a shell does, in a folder of its own.
#pragma once

#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace tidemark::cli {

struct Ran {
    int code = 0;
    std::string out, err;
};

inline std::string contents(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// A fresh folder, gone again at the end.
class Folder {
public:
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "tidemark-XXXXXX").string();
        path_ = mkdtemp(name.data());
    }
    ~Folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::filesystem::path operator/(const std::string& name) const { return path_ / name; }

    void write(const std::string& name, const std::string& text) const {
        std::ofstream(path_ / name, std::ios::binary) << text;
    }

    /// `tidemark WORDS` as typed into a shell standing in the folder, with no settings but those
    /// that `before` has; `from` says where standard input comes from.
    Ran run(const std::string& words, const std::string& before = "",
            const std::string& from = " </dev/null") const {
        const std::string settings = "unset COLUMNS && XDG_CONFIG_HOME=\"$PWD/.none\" TZ=UTC0 "
                                     "SOURCE_DATE_EPOCH=1795593600 "; // 2026-11-25 08:00
        const std::string line = "cd '" + path_.string() + "' && " + settings + before +
                                 " '" TIDEMARK_BINARY_DIR "/tidemark' " + words + " >.out 2>.err" +
                                 from;
        const int status = std::system(line.c_str());
        return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, contents(path_ / ".out"),
                contents(path_ / ".err")};
    }

    /// Names of the files the program left, besides its output.
    std::size_t files() const {
        std::size_t count = 0;
        for (const auto& entry : std::filesystem::directory_iterator(path_)) {
            count += !entry.path().filename().string().starts_with('.');
        }
        return count;
    }
    /// All files, hidden ones and its output too.
    std::size_t all_files() const {
        return static_cast<std::size_t>(
            std::distance(std::filesystem::directory_iterator(path_), {}));
    }

private:
    std::filesystem::path path_;
};

/// The words are refused in one line, with exit code 2, nothing on standard output and
/// no file left behind.
inline void refused(const Folder& folder, const std::string& words, const std::string& message) {
    CAPTURE(words);
    const std::size_t before = folder.files();
    const Ran ran = folder.run(words);
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK(ran.err == "tidemark: " + message + '\n');
    CHECK(folder.files() == before);
}

/// The quickest case there is: enough to see what the command line does.
inline const std::string quick = "day --thickness 40mm --brine-salt 6% --brine-nitrite 150ppm ";

} // namespace tidemark::cli
