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
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <numbers>
#include <string_view>
#include <thread>
#include <vector>

extern char** environ;

namespace tidemark::output {
namespace {

using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

constexpr auto patience = 8s;                     ///< without progress
constexpr auto longest = 20s;                     ///< in all
constexpr std::size_t largest_figure = 100 << 20; ///< [bytes]

/// What gnuplot calls a form of file, and what makes it look like the others.
struct Terminal {
    std::string command; ///< %w and %h stand for the size of the page
    double unit;         ///< of the page per pixel
    double letter;       ///< gnuplot's size of a font per pixel
    double stroke;       ///< gnuplot's width of a line per pixel
};

const std::map<std::string, Terminal>& terminals() {
    static const std::map<std::string, Terminal> list = {
        {".svg", {}},
        {".png", {"pngcairo noenhanced font 'Sans' size %w,%h", 1, 0.75, 1}},
        {".pdf", {"pdfcairo noenhanced font 'Sans' size %win,%hin", 1. / 180, 0.8, 0.8}}};
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
            throw base::RunError(failed == ENOENT ? "gnuplot is not installed"
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

    /// What it draws. Throws RunError if it fails, stands still or goes on without an end.
    std::string drawn() {
        std::string bytes;
        std::array<char, 1 << 16> part;
        const auto last = Clock::now() + longest;
        for (ssize_t got = 1; got != 0;) {
            pollfd ready{drawn_, POLLIN, 0};
            const int count = poll(&ready, 1, std::chrono::milliseconds(patience).count());
            if (count == 0 || bytes.size() > largest_figure || Clock::now() > last) {
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

/// `text` in gnuplot's single quotes, where only the quote itself is special; no line breaks.
std::string quoted(const std::string& text) {
    return '\'' + boost::replace_all_copy(base::showable(text), "'", "''") + '\'';
}

/// A drawing in gnuplot's words: one plot whose axes are the page's pixels.
class Script {
public:
    Script(std::ostream& out, const Drawing& d, const Terminal& terminal)
        : out_(out), d_(d), terminal_(terminal) {}

    void write() {
        out_ << "unset border\nunset tics\nunset key\nset lmargin 0\nset rmargin 0\n"
                "set tmargin 0\nset bmargin 0\nset xrange [0:"
             << d_.width << "]\nset yrange [" << d_.height << ":0]\n";
        for (const auto& shape : d_.shapes())
            if (const Words* words = std::get_if<Words>(&shape))
                write(*words);
        std::string plots = "plot NaN";
        for (const auto& shape : d_.shapes())
            if (const Area* area = std::get_if<Area>(&shape))
                plots += ", '-' with filledcurves closed fs solid noborder fc rgb '" +
                         area->colour + '\'';
            else if (const Line* line = std::get_if<Line>(&shape))
                plots += ", '-' with lines lw " + fixed(line->width * terminal_.stroke, 2) +
                         dash(line->dash) + " lc rgb '" + line->colour + '\'';
        out_ << plots << '\n';
        for (const auto& shape : d_.shapes())
            if (const Area* area = std::get_if<Area>(&shape))
                data(*area);
            else if (const Line* line = std::get_if<Line>(&shape))
                data(line->points);
    }

private:
    static const char* dash(Dash d) {
        return d == Dash::dashed ? " dt (12,9)" : d == Dash::dotted ? " dt (3,6)" : "";
    }
    void point(const Point& p) { out_ << p.x() << ' ' << p.y() << '\n'; }
    void data(const Points& points) {
        for (const Point& p : points)
            point(p);
        out_ << "e\n";
    }
    /// Rings joined by a way there and back: holes run the other way round, so that they stay open.
    void data(const Area& area) {
        for (const Points& ring : area.rings) {
            if (ring.empty())
                continue;
            for (const Point& p : ring)
                point(p);
            point(ring.front());
            point(area.rings.front().front());
        }
        out_ << "e\n";
    }
    void write(const Words& w) {
        const char* place = w.anchor == Anchor::start    ? "left"
                            : w.anchor == Anchor::middle ? "center"
                                                         : "right";
        const double raise = 0.33 * w.size; // gnuplot's words hang by their middle
        const double a = w.angle * std::numbers::pi / 180;
        const auto label = [&](double dx, double dy, const std::string& colour) {
            out_ << "set label " << quoted(w.text) << " at " << w.at.x() - raise * std::sin(a) + dx
                 << ',' << w.at.y() - raise * std::cos(a) + dy << ' ' << place << " rotate by "
                 << w.angle << " font 'Sans" << (w.bold ? " Bold," : ",")
                 << fixed(w.size * terminal_.letter, 2) << "' tc rgb '" << colour << "' front\n";
        };
        if (!w.halo.empty())
            for (const auto& [dx, dy] : {std::pair{-2, -2}, {-2, 2}, {2, -2}, {2, 2}})
                label(dx, dy, w.halo);
        label(0, 0, w.colour);
    }

    std::ostream& out_;
    const Drawing& d_;
    const Terminal& terminal_;
};

} // namespace

void check_figure(const std::string& path, const std::string& where) {
    if (path != base::standard_stream && !terminals().contains(ending(path))) {
        throw base::InputError(where, path, "does not end in .svg, .png or .pdf",
                               "name the figure like ham.svg");
    }
    base::check_writable(path, where);
}

void draw_page(const std::string& path, const Drawing& drawing) {
    if (path == base::standard_stream || ending(path) == ".svg") {
        base::write_file(path, svg(drawing));
        return;
    }
    const Terminal& terminal = terminals().at(ending(path));
    const int decimals = terminal.unit < 1 ? 3 : 0;
    std::string command = terminal.command;
    boost::replace_all(command, "%w", fixed(drawing.width * terminal.unit, decimals));
    boost::replace_all(command, "%h", fixed(drawing.height * terminal.unit, decimals));
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
            Script(to_file, drawing, terminal).write();
            to_file << "unset output\n" << std::flush;
            if (!to_file) {
                throw base::RunError("its script could not be written");
            }
        }
        std::rewind(commands.get());
        drawn = Run(fileno(commands.get())).drawn();
    } catch (const base::RunError& error) {
        throw base::RunError(path + " was not drawn: " + error.what() +
                             "; name the figure like ham.svg, which needs no gnuplot");
    }
    base::write_file(path, drawn);
}

} // namespace tidemark::output
