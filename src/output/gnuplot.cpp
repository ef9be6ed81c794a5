// SPDX-License-Identifier: MIT
#include "output/gnuplot.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string.hpp>
#include <boost/process/search_path.hpp>
#include <gnuplot-iostream.h>

#include <filesystem>
#include <map>

namespace tidemark::output {
namespace {

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

std::string in_shell(const std::string& text) {
    return '\'' + boost::replace_all_copy(text, "'", "'\\''") + '\'';
}

} // namespace

std::string quoted(const std::string& text) {
    return '\'' + boost::replace_all_copy(text, "'", "''") + '\'';
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
    const std::string gnuplot = boost::process::search_path("gnuplot").string();
    if (gnuplot.empty()) {
        throw base::RunError(path + " was not drawn: gnuplot is not installed; install it, or ask "
                                    "for --csv and draw with something else");
    }
    const Terminal& terminal = terminals().at(ending(path));
    const int decimals = terminal.unit < 1 ? 3 : 0;
    std::string command = terminal.command;
    boost::replace_all(command, "%w", fixed(page_width * terminal.unit, decimals));
    boost::replace_all(command, "%h", fixed(height * terminal.unit, decimals));
    base::write_aside(path, [&](const std::string& aside) {
        // If the script fails, what it wrote goes, and write_aside() says that nothing is there.
        Gnuplot pipe(in_shell(gnuplot) + " >/dev/null 2>&1 || rm -f " + in_shell(aside));
        pipe << "set terminal " << command << "\nset output " << quoted(aside)
             << "\nset encoding utf8\n";
        script(pipe, terminal.dot);
        pipe << "unset output\n";
    });
}

} // namespace tidemark::output
