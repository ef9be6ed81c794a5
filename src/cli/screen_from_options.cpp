// SPDX-License-Identifier: MIT
#include "cli/screen_from_options.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/quantity.hpp"
#include "base/show.hpp"
#include "cli/flags.hpp"
#include "cli/values.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <iostream>

namespace tidemark::cli {

using base::InputError;

std::size_t terminal_columns(std::size_t otherwise) {
    const char* text = std::getenv("COLUMNS");
    std::size_t columns = text ? std::strtoul(text, nullptr, 10) : 0;
    winsize size{};
    if (columns == 0 && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0) {
        columns = size.ws_col;
    }
    return columns == 0 ? otherwise : std::clamp<std::size_t>(columns, 40, 100);
}

Folded::Folded() : before_(std::cout.rdbuf(text_.rdbuf())) {}

Folded::~Folded() {
    std::cout.rdbuf(before_);
    std::cout << output::folded(text_.str(), terminal_columns(100));
}

bool helped(const Options& options, const std::string& command, const std::string& text) {
    const bool all = options.on("help-all");
    if (!all && !options.on("help"))
        return false;
    Folded to_the_terminal;
    std::cout << text << flags_of(command, all);
    return true;
}

output::Shown shown_by(const Options& options) {
    const std::vector<std::string> names{"both", "metric", "us"};
    const std::string units = Values(options).name("units", names, "both");
    base::show_in(units == "metric" ? base::Units::metric
                  : units == "us"   ? base::Units::us
                                    : base::Units::both);
    output::Shown shown(options.on("more"));
    shown.quiet = options.on("quiet");
    shown.columns = terminal_columns();
    return shown;
}

const Given* in_place_of_screen(const Options& options) {
    const Given* taken = nullptr;
    for (const char* flag : {"json", "csv", "course", "figure", "sheet", "calendar"}) {
        const Given* given = options.find(flag);
        const bool file = given && given->text == base::standard_stream;
        if (!file && !(given && given->text == "yes" && options.on(flag))) {
            continue;
        }
        if (taken) {
            throw InputError(given->where, file ? "-" : "", "does not go with " + taken->where,
                             "ask for one of them");
        }
        taken = given;
    }
    return taken && taken->text == base::standard_stream ? taken : nullptr;
}

void check_ending(const Given& file, const std::string& ending, const std::string& like) {
    if (file.text != base::standard_stream && !file.text.ends_with(ending)) {
        throw InputError(file.where, file.text, "does not end in " + ending,
                         "name it like " + like);
    }
}

} // namespace tidemark::cli
