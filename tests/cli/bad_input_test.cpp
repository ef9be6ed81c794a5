// SPDX-License-Identifier: MIT
/// The table of bad input, tests/cli/bad_input.txt: every line is refused with exit code 2, nothing
/// on standard output, one line that names place, value, rule and remedy in that order, and no file
/// written or changed.
#include "run.hpp"

#include <boost/algorithm/string.hpp>
#include <catch2/catch.hpp>

#include <array>
#include <future>
#include <map>
#include <sstream>
#include <vector>

namespace bad_input_test {

using namespace tidemark::cli;

namespace {

/// One line of the table.
struct Case {
    int line = 0;
    std::string words;                ///< behind `tidemark`, as typed into a shell
    std::array<std::string, 4> parts; ///< place, value, rule, remedy
    std::map<std::string, std::string> files;
};

std::vector<Case> table() {
    std::ifstream in(TIDEMARK_SOURCE_DIR "/tests/cli/bad_input.txt");
    std::map<std::string, std::string> shorthand; // "DAY" for a whole command
    std::vector<Case> cases;
    std::string line;
    for (int number = 1; std::getline(in, line); ++number) {
        if (line.empty() || line[0] == '#') {
            continue;
        }
        std::vector<std::string> fields;
        boost::iter_split(fields, line, boost::first_finder(" | "));
        if (const auto sign = line.find(" := "); fields.size() == 1 && sign != std::string::npos) {
            shorthand[line.substr(0, sign)] = line.substr(sign + 4);
            continue;
        }
        INFO("line " << number << ": " << line);
        REQUIRE(fields.size() >= 5);
        for (std::string& field : fields) {
            field = field == "-" ? "" : field;
        }
        Case c{number, fields[0], {fields[1], fields[2], fields[3], fields[4]}, {}};
        const std::string first = c.words.substr(0, c.words.find(' '));
        if (const auto known = shorthand.find(first); known != shorthand.end()) {
            c.words.replace(0, first.size(), known->second);
        }
        for (std::size_t k = 5; k < fields.size(); ++k) {
            const auto colon = fields[k].find(':');
            c.files[fields[k].substr(0, colon)] = boost::replace_all_copy(
                boost::trim_left_copy(fields[k].substr(colon + 1)), "\\n", "\n");
        }
        cases.push_back(c);
    }
    return cases;
}

/// What is wrong with the refusal, or "".
std::string complaint(const Case& c) {
    const Folder folder;
    for (const auto& [name, text] : c.files) {
        folder.write(name, text);
    }
    const Ran ran = folder.run(c.words);
    std::string wrong;
    if (ran.code != 2) {
        wrong += " exit code " + std::to_string(ran.code) + ';';
    }
    if (!ran.out.empty()) {
        wrong += " standard output: " + ran.out.substr(0, 80) + ';';
    }
    if (ran.err.find('\n') + 1 != ran.err.size()) {
        wrong += " not one line;";
    }
    std::size_t at = std::string("tidemark: ").size();
    for (const std::string& part : c.parts) {
        if (const auto found = ran.err.find(part, at); found == std::string::npos) {
            wrong += " lacks \"" + part + "\";";
        } else {
            at = found + part.size();
        }
    }
    if (!ran.err.starts_with("tidemark: " + (c.parts[0].empty() ? c.parts[1] : c.parts[0]))) {
        wrong += " does not begin with its place;";
    }
    if (folder.files() != c.files.size()) {
        wrong += " a file came or went;";
    }
    for (const auto& [name, text] : c.files) {
        if (contents(folder / name) != text) {
            wrong += ' ' + name + " was changed;";
        }
    }
    return wrong.empty() ? "" : c.words + '\n' + wrong + '\n' + ran.err;
}

} // namespace

TEST_CASE("every line of the table of bad input is refused in one line with its remedy", "[cli]") {
    const std::vector<Case> cases = table();
    CHECK(cases.size() >= 500);
    std::vector<std::string> complaints(cases.size());
    constexpr std::size_t workers = 2;
    std::vector<std::future<void>> running;
    for (std::size_t w = 0; w < workers; ++w) {
        running.push_back(std::async(std::launch::async, [&, w] {
            for (std::size_t k = w; k < cases.size(); k += workers) {
                complaints[k] = complaint(cases[k]);
            }
        }));
    }
    for (auto& worker : running) {
        worker.get();
    }
    for (std::size_t k = 0; k < cases.size(); ++k) {
        INFO("bad_input.txt:" << cases[k].line << ": " << complaints[k]);
        CHECK(complaints[k].empty());
        CHECK(cases[k].parts[2] != ""); // the table itself: a rule and a remedy on every line
        CHECK(cases[k].parts[3] != "");
    }
}

} // namespace bad_input_test
