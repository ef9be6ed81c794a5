// SPDX-License-Identifier: MIT
#include "cli/save_case.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "cli/again.hpp"
#include "cli/flags.hpp"

#include <boost/program_options/parsers.hpp>

#include <algorithm>
#include <filesystem>

namespace tidemark::cli {
namespace {

namespace fs = std::filesystem;

/// Of a cover brine, which a file that is to be weighed out again must not hold for a dry cure.
constexpr const char* of_a_brine[] = {"brine-salt", "brine-nitrite", "brine", "water",
                                      "ice",        "cold-water",    "hot",   "salt",
                                      "sugar",      "premix",        "still", "erythorbate"};

/// Of one batch or of the way itself, which says its own.
constexpr const char* left_out[] = {"case",  "start", "ready", "stage",     "with",
                                    "piece", "share", "pump",  "pump-salt", "pump-nitrite"};

std::string line_of(const std::string& name, const Given& given, const fs::path& folder) {
    std::string text = given.text;
    if (name == "outline") // which is looked for beside the file that names it
        text = fs::absolute(text).lexically_proximate(fs::absolute(folder)).string();
    if (text.find_first_of("#\n\r") != std::string::npos)
        throw base::InputError(given.where, given.text, "cannot stand in a case file",
                               "leave out # and ends of lines, or leave out --save");
    return name + " = " + text + '\n';
}

} // namespace

void check_save(const Options& options) {
    const Given *file = options.find("save"), *from = options.find("case");
    if (!file)
        return;
    std::error_code none;
    if (from && fs::equivalent(from->text, file->text, none))
        throw base::InputError(file->where, file->text, "is the case file that is read",
                               "give another name");
    base::check_writable(file->text, file->where);
}

void save_case(const Options& options, const std::string& way, const std::string& title) {
    const Given& file = *options.find("save");
    const fs::path folder = fs::path(file.text).parent_path();
    const auto words = boost::program_options::split_unix(way);
    const auto says = [&](const std::string& name) {
        return std::ranges::count(words, "--" + name) > 0;
    };
    const bool covered = way.find("--stage \"brine") != std::string::npos;
    const auto flags = flags_of("plan", true);
    std::string text = "# " + title + '\n';
    for (const auto& flag : flags.options()) {
        const std::string& name = flag->long_name();
        if (says(name) || of_the_answer(name) || std::ranges::count(left_out, name) > 0 ||
            (!covered && std::ranges::count(of_a_brine, name) > 0))
            continue;
        for (const Given& given : options.all(name))
            text += line_of(name, given.text.empty() ? Given{"yes", given.where} : given, folder);
    }
    for (std::size_t k = 0; k + 1 < words.size(); k += 2)
        text += words[k].substr(2) + " = " + words[k + 1] + '\n';
    base::write_file(file.text, text);
}

} // namespace tidemark::cli
