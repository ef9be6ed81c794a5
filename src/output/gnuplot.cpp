// SPDX-License-Identifier: MIT
/// The script is written first, then given to gnuplot; what gnuplot draws comes back through a pipe
/// and is written by us. So no shell and no file name is involved, and a full disk is noticed.
#include "output/gnuplot.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/text.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string.hpp>
#include <gnuplot-iostream.h>

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <string_view>
#include <thread>
#include <vector>

extern char** environ;

namespace tidemark::output {
namespace {

using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

constexpr auto patience = 8s;                     ///< without progress
constexpr std::size_t largest_figure = 100 << 20; ///< [bytes]

/// What gnuplot calls a form of file, and what makes it look like the others.
struct Terminal {
    std::string command; ///< %w and %h stand for the size of the page
    double unit;         ///< of the page per pixel
    double dot;          ///< gnuplot's point size of a dot of 26 pixels
};

const std::map<std::string, Terminal>& terminals() {
    static const std::map<std::string, Terminal> list = {
        {".svg", {"svg noenhanced background 'white' font 'sans-serif,27' size %w,%h", 1, 0.7}},
        {".png", {"pngcairo noenhanced font 'Sans,22' size %w,%h", 1, 2.4}},
        {".pdf",
         {"pdfcairo noenhanced font 'Sans,30' fontscale 0.32 size %win,%hin", 1. / 180, 0.8}}};
    return list;
}

std::string ending(const std::string& path) {
    return boost::to_lower_copy(std::filesystem::path(path).extension().string());
}

struct Close {
    void operator()(std::FILE* file) const { std::fclose(file); }
};
using File = std::unique_ptr<std::FILE, Close>;

/// Runs gnuplot, without the user's settings and locale, on a file of commands.
class Run {
public:
    explicit Run(int script) {
        std::array<int, 2> ends{};
        if (pipe2(ends.data(), O_CLOEXEC) != 0) {
            throw base::RunError("no pipe could be made");
        }
        drawn_ = ends[0];
        std::string locale = "LC_ALL=C.UTF-8";
        std::vector<char*> settings{locale.data()};
        for (char** one = environ; *one; ++one) {
            const std::string_view text = *one;
            if (!text.starts_with("LC_") && !text.starts_with("LANG") && !text.starts_with("GNU")) {
                settings.push_back(*one);
            }
        }
        settings.push_back(nullptr);
        std::string name = "gnuplot", no_settings_file = "-d";
        std::array<char*, 3> words{name.data(), no_settings_file.data(), nullptr};

        posix_spawn_file_actions_t files;
        posix_spawn_file_actions_init(&files);
        posix_spawn_file_actions_adddup2(&files, script, STDIN_FILENO);
        posix_spawn_file_actions_adddup2(&files, ends[1], STDOUT_FILENO);
        posix_spawn_file_actions_addopen(&files, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
        posix_spawnattr_t how;
        posix_spawnattr_init(&how);
        posix_spawnattr_setflags(&how, POSIX_SPAWN_SETPGROUP | POSIX_SPAWN_SETSIGDEF);
        sigset_t usual;
        sigemptyset(&usual);
        sigaddset(&usual, SIGPIPE);
        posix_spawnattr_setsigdefault(&how, &usual);
        const int failed =
            posix_spawnp(&child_, name.c_str(), &files, &how, words.data(), settings.data());
        posix_spawnattr_destroy(&how);
        posix_spawn_file_actions_destroy(&files);
        close(ends[1]);
        if (failed) {
            child_ = -1;
            close(drawn_);
            throw base::RunError(failed == ENOENT
                                     ? "gnuplot is not installed; install it, or ask for --csv and "
                                       "draw with something else"
                                     : "gnuplot could not be started");
        }
    }
    ~Run() {
        close(drawn_);
        if (child_ > 0) { // what it started goes, too
            kill(-child_, SIGKILL);
            waitpid(child_, nullptr, 0);
        }
    }
    Run(const Run&) = delete;
    Run& operator=(const Run&) = delete;

    /// What it draws. Throws RunError if it fails or stands still.
    std::string drawn() {
        std::string bytes;
        std::array<char, 1 << 16> part;
        for (ssize_t got = 1; got != 0;) {
            pollfd ready{drawn_, POLLIN, 0};
            const int count = poll(&ready, 1, std::chrono::milliseconds(patience).count());
            if (count == 0 || bytes.size() > largest_figure) {
                throw base::RunError("gnuplot did not come to an end");
            }
            got = count < 0 ? -1 : read(drawn_, part.data(), part.size());
            bytes.append(part.data(), static_cast<std::size_t>(std::max<ssize_t>(got, 0)));
        }
        for (const auto end = Clock::now() + patience;; std::this_thread::sleep_for(5ms)) {
            int status = 0;
            if (waitpid(child_, &status, WNOHANG) == child_) {
                child_ = -1;
                if (status != 0 || bytes.empty()) {
                    throw base::RunError(status != 0 ? "gnuplot failed" : "gnuplot drew nothing");
                }
                return bytes;
            }
            if (Clock::now() > end) {
                throw base::RunError("gnuplot did not come to an end");
            }
        }
    }

private:
    int drawn_ = -1;
    pid_t child_ = -1;
};

} // namespace

std::string quoted(const std::string& text) {
    return '\'' + boost::replace_all_copy(base::showable(text), "'", "''") + '\'';
}

void check_figure(const std::string& path, const std::string& where) {
    if (!terminals().contains(ending(path))) {
        throw base::InputError(where, path, "does not end in .svg, .png or .pdf",
                               "name the figure like ham.svg");
    }
    base::check_writable(path, where);
}

void draw_page(const std::string& path, double height,
               const std::function<void(std::ostream&, double)>& script) {
    const Terminal& terminal = terminals().at(ending(path));
    const int decimals = terminal.unit < 1 ? 3 : 0;
    std::string command = terminal.command;
    boost::replace_all(command, "%w", fixed(page_width * terminal.unit, decimals));
    boost::replace_all(command, "%h", fixed(height * terminal.unit, decimals));
    std::string drawn;
    try {
        const File commands(std::tmpfile());
        std::FILE* const same = commands ? fdopen(dup(fileno(commands.get())), "w") : nullptr;
        if (!same) {
            throw base::RunError("its script could not be written");
        }
        {
            Gnuplot to_file(same); // closes its own
            to_file << "set terminal " << command << "\nset encoding utf8\n";
            script(to_file, terminal.dot);
            to_file << "unset output\n" << std::flush;
            if (!to_file) {
                throw base::RunError("its script could not be written");
            }
        }
        std::rewind(commands.get());
        drawn = Run(fileno(commands.get())).drawn();
    } catch (const base::RunError& error) {
        throw base::RunError(path + " was not drawn: " + error.what());
    }
    base::write_file(path, drawn);
}

} // namespace tidemark::output
