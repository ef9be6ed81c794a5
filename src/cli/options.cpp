// SPDX-License-Identifier: MIT
/// Program_options reads both the line and the file; what is added here is the joining of stray
/// words, line numbers, and remedies.
#include "cli/options.hpp"

#include "cli/flags.hpp"
#include "cli/screen_from_options.hpp"
#include "cli/values.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string/classification.hpp>
#include <boost/algorithm/string/trim.hpp>
#include <boost/program_options.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <iterator>
#include <sstream>

namespace tidemark::cli {
namespace {

namespace po = boost::program_options;
using base::InputError;

constexpr std::size_t longest_case = 16 * base::kilobyte;

bool repeatable(const std::string& name) {
    return name == "set" || name == "stage" || name == "with";
}

/// `dashes` stand before the names offered: two on the line, none in a file.
[[noreturn]] void unknown(const po::options_description& flags, const std::string& command,
                          const std::string& where, const std::string& word, const char* rule,
                          const std::string& dashes) {
    std::vector<std::string> known;
    for (const auto& option : flags.options()) {
        known.push_back(option->long_name());
    }
    const std::string near =
        base::nearest(boost::trim_left_copy_if(word, boost::is_any_of("-")), known);
    throw InputError(where, word, rule,
                     near.empty() ? "see tidemark " + command + " --help"
                                  : "did you mean " + dashes + near + "?");
}

[[noreturn]] void fail(const std::string& command, const std::string& flag, const char* rule) {
    throw InputError(flag, "", rule, "see tidemark " + command + " --help");
}

[[noreturn]] void stray(const std::string& word) {
    throw InputError("", word, "is a stray word",
                     "write a flag and its value, with quotes around a value that holds spaces: "
                     "--thickness \"65 mm\"");
}

bool is_number(const std::string& word) {
    return word.find_first_of("0123456789") != std::string::npos &&
           word.find_first_not_of("0123456789.,/+-eE") == std::string::npos;
}

/// The value behind the last sign "=", for --set, and its last word.
std::string last_word(const std::string& text) {
    return text.substr(text.find_last_of("= ") + 1);
}

/// Joins the words a cook leaves without quotes to the number before them: --weight 1 lb 4 oz.
class Line {
public:
    Line(Options& options, const std::string& command) : options_(options), command_(command) {}

    void take(const po::option& option) {
        const std::string& word = option.original_tokens.at(0);
        if (command_ == "numbers" && option.position_key >= 0 && !word.starts_with('-')) {
            take_word(word);
            return;
        }
        if (option.unregistered || (option.position_key >= 0 && word.starts_with('-'))) {
            unknown(flags_of(command_, true), command_, "", word.substr(0, word.find('=')),
                    "is not a flag", "--");
        }
        if (option.position_key >= 0) {
            join(word);
            return;
        }
        finish();
        name_ = option.string_key;
        text_ = option.value.empty() ? "yes" : option.value[0];
        if (text_.starts_with("--")) {
            fail(command_, "--" + name_, "has no value");
        }
        joined_ = false;
    }

    /// Of a command that takes one without a flag.
    void take_word(const std::string& word) {
        if (options_.find(head_word)) {
            stray(word);
        }
        options_.add(head_word, {word, command_});
    }

    void finish() {
        if (name_.empty()) {
            return;
        }
        if (!repeatable(name_) && options_.find(name_)) {
            throw InputError("--" + name_, text_, "is given twice", "keep one");
        }
        options_.add(name_, {text_, "--" + name_});
    }

private:
    void join(const std::string& word) {
        if (name_.empty() || !(joined_ || is_number(last_word(text_)))) {
            stray(word);
        }
        text_ += ' ' + word;
        joined_ = true;
    }

    Options& options_;
    const std::string& command_;
    std::string name_, text_;
    bool joined_ = false;
};

Options read_line(const std::vector<std::string>& words, const std::string& command) {
    Options options;
    Line line(options, command);
    // What stands behind two dashes by themselves is no flag, whatever it begins with.
    const auto dashes = std::ranges::find(words, "--");
    for (auto word = dashes; word != words.end() && ++word != words.end();) {
        if (command != "numbers") {
            stray(*word);
        }
        line.take_word(*word);
    }
    try {
        using namespace po::command_line_style;
        const po::options_description flags = flags_of(command, true);
        const auto parsed = po::command_line_parser(std::vector(words.begin(), dashes))
                                .options(flags)
                                .style(allow_long | long_allow_next | long_allow_adjacent)
                                .allow_unregistered()
                                .run();
        for (const po::option& option : parsed.options) {
            line.take(option);
        }
    } catch (const po::invalid_syntax& error) {
        fail(command, error.get_option_name(),
             error.kind() == po::invalid_syntax::extra_parameter ? "takes no value"
                                                                 : "has no value");
    }
    line.finish();
    return options;
}

/// One line of a case file; Program_options knows its form but counts no lines, so it gets them one
/// by one.
std::vector<po::option> read_case_line(const std::string& line, const std::string& where) {
    const std::string said = base::trim(line);
    if (said.empty() || said.starts_with('#')) {
        return {};
    }
    if (said.starts_with('[')) {
        throw InputError(where, said, "is a heading, and a case file has none",
                         "take the line out");
    }
    const auto malformed = [&] {
        return InputError(where, base::trim(line), "is not of the form name = value",
                          "begin comments with #");
    };
    if (base::trim(line).starts_with('=')) {
        throw malformed();
    }
    static const po::options_description flags = case_file_flags();
    std::istringstream in(line);
    try {
        return po::parse_config_file(in, flags, true).options;
    } catch (const po::error&) {
        throw malformed();
    }
}

/// Why other flags have no place in a file.
constexpr const char* piece_rule =
    "is not of the piece; brine, cooler and numbers of the model are "
    "those of the first case";
constexpr const char* standing_rule = "is not a standing default; those are units and law";

/// `only`: the file may hold nothing else, for the reason given by `rule`.
Options read_case(const Given& file, const std::string& command,
                  const po::options_description& only = {}, const char* rule = "") {
    const std::string& path = file.text;
    const std::filesystem::path folder = std::filesystem::path(path).parent_path();
    std::istringstream text(base::read_text(path, file.where, longest_case));
    Options options;
    std::string line;
    for (int number = 1; std::getline(text, line); ++number) {
        const std::string place = path + ':' + std::to_string(number);
        for (const po::option& option : read_case_line(line, place)) {
            const std::string& name = option.string_key;
            if (option.unregistered) {
                unknown(case_file_flags(), command, place, name,
                        "is not a name a case file may hold", "");
            }
            if (name == file_flag || name.starts_with("help")) {
                throw InputError(place, name, "cannot stand in a case file", "take the line out");
            }
            if (!repeatable(name) && options.find(name)) {
                throw InputError(place, name, "is given twice", "keep one");
            }
            if (!only.options().empty() && !only.find_nothrow(name, false)) {
                throw InputError(place, name, rule, "take the line out");
            }
            const std::string& value = option.value.at(0);
            // A case and the files it names travel together, wherever they are called from.
            const bool names_file = name == "outline" || name == "with";
            options.add(
                name,
                {names_file && value != base::standard_stream ? (folder / value).string() : value,
                 place + ": " + name});
        }
    }
    return options;
}

/// Where a user keeps settings: XDG_CONFIG_HOME, else .config at home; "" if there is neither.
std::filesystem::path own_settings() {
    const auto folder = [](const char* variable) {
        const char* text = std::getenv(variable);
        const std::filesystem::path path = text ? text : "";
        return path.is_absolute() ? path : std::filesystem::path();
    };
    const std::filesystem::path settings = folder("XDG_CONFIG_HOME"), home = folder("HOME");
    return !settings.empty() ? settings : home.empty() ? home : home / ".config";
}

/// Of tidemark/defaults.ini there, what the command has a flag for.
Options standing_defaults(const std::string& command) {
    const std::filesystem::path folder = own_settings();
    const std::string path = (folder / "tidemark" / "defaults.ini").string();
    const po::options_description standing = standing_flags();
    Options options, known;
    if (std::error_code none; folder.empty() || !std::filesystem::exists(path, none)) {
        return known;
    }
    options = read_case({path, "standing defaults"}, command, standing, standing_rule);
    const po::options_description flags = flags_of(command, true);
    for (const auto& option : standing.options()) {
        const Given* given = options.find(option->long_name());
        if (given && flags.find_nothrow(option->long_name(), false)) {
            known.add(option->long_name(), *given);
        }
    }
    return known;
}

} // namespace

std::string key_of(const Given& set) {
    return base::trim(set.text.substr(0, set.text.find('=')));
}

void Options::add(const std::string& name, const Given& given) {
    base::check_showable(given.text, given.where);
    values_[name].push_back(given);
}

const Given* Options::find(const std::string& name) const {
    const auto found = values_.find(name);
    return found == values_.end() ? nullptr : &found->second.front();
}

bool Options::on(const std::string& name) const {
    const Given* given = find(name);
    if (given && given->text != "yes" && given->text != "no") {
        throw InputError(given->where, given->text, "is neither yes nor no", "write yes or no");
    }
    return given && given->text == "yes";
}

const std::vector<Given>& Options::all(const std::string& name) const {
    static const std::vector<Given> none;
    const auto found = values_.find(name);
    return found == values_.end() ? none : found->second;
}

void Options::merge(const Options& file) {
    for (const auto& [name, values] : file.values_) {
        std::vector<Given>& mine = values_[name];
        if (mine.empty()) {
            mine = values;
        } else if (name == "with") {
            mine.insert(mine.begin(), values.begin(), values.end());
        } else if (name == "set") {
            const std::vector<Given> on_line = mine;
            std::ranges::copy_if(values, std::back_inserter(mine), [&](const Given& given) {
                return std::ranges::count(on_line, key_of(given), key_of) == 0;
            });
        }
    }
}

Options read_options(const std::vector<std::string>& words, const std::string& command) {
    Options options = read_line(words, command);
    if (const Given* file = options.find(file_flag)) {
        options.merge(read_case(*file, command));
    }
    options.merge(standing_defaults(command));
    Values(options).check_all();
    return options;
}

Options read_piece_file(const Given& file) {
    if (file.text.find(", ") != std::string::npos)
        throw base::InputError(file.where, file.text, "is more than one file",
                               "give each a with of its own, one file a line");
    return read_case(file, "bucket", piece_flags(), piece_rule);
}

void check_sheet(const Given& file) {
    check_ending(file, ".html", "loin.html");
    base::check_writable(file.text, file.where);
}

} // namespace tidemark::cli
