// SPDX-License-Identifier: MIT
#include "validation/score.hpp"

#include <boost/algorithm/string.hpp>
#include <catch2/catch.hpp>

#include <iostream>
#include <sstream>

namespace tidemark::validation {

std::string path(const std::string& name) {
    return TIDEMARK_SOURCE_DIR "/validation/" + name;
}

std::vector<std::vector<std::string>> table(const std::string& text) {
    std::vector<std::vector<std::string>> rows;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) {
        boost::trim(line);
        if (!line.empty() && line[0] != '#') {
            boost::split(rows.emplace_back(), line, [](char c) { return c == ','; });
        }
    }
    return rows;
}

std::string output(const std::string& words) {
    const cli::Ran ran = cli::Folder().run(words);
    CAPTURE(words, ran.err);
    REQUIRE(ran.code == 0);
    return ran.out;
}

nlohmann::json answer(const std::string& words) {
    return nlohmann::json::parse(output(words + " --json"));
}

void show(const std::string& name, const std::string& score) {
    std::cout << '\n' << name << "\n\n" << score;
    INFO("validation/" << name << "/README.md does not show this score:\n" << score);
    CHECK(boost::contains(cli::contents(path(name + "/README.md")), score));
}

std::string fixed(double value, int digits) {
    std::ostringstream out;
    out << std::fixed;
    out.precision(digits);
    out << value;
    return out.str();
}

} // namespace tidemark::validation
