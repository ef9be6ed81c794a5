// SPDX-License-Identifier: MIT
/// No number that feeds nothing: every record of models/ is read by the program or by a program
/// under validation/, and every free function of a header is called there. Tests do not count. A
/// search of the texts: it sees that a key is put together, not on which way it is asked.
#include "base/record.hpp"

#include <boost/algorithm/string.hpp>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <set>

namespace test_idle {

namespace {

using namespace tidemark;
namespace fs = std::filesystem;
using Words = std::set<std::string>;

/// The sources by name, "src/cure/setup.cpp", without comments and lines that include.
std::map<std::string, std::string> sources() {
    const fs::path root = TIDEMARK_SOURCE_DIR;
    std::map<std::string, std::string> all;
    for (const char* folder : {"src", "validation"}) {
        for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
            const auto kind = entry.path().extension();
            if (kind == ".cpp" || kind == ".hpp") {
                std::ifstream in(entry.path());
                const std::string text{std::istreambuf_iterator<char>(in), {}};
                all[fs::relative(entry.path(), root).generic_string()] =
                    std::regex_replace(text, std::regex("//[^\n]*|#include[^\n]*"), "");
            }
        }
    }
    return all;
}

/// What a source has in quotes.
Words quoted(const std::string& text) {
    Words words;
    const std::regex quotes(R"re("((?:\\.|[^"\\\n])*)")re");
    for (std::sregex_iterator it(text.begin(), text.end(), quotes), end; it != end; ++it) {
        words.insert((*it)[1]);
    }
    return words;
}

std::vector<std::string> parts_of(const std::string& key) {
    std::vector<std::string> parts;
    return boost::split(parts, key, boost::is_any_of("."));
}

/// Keys that are put together: `head`, then so many names that the cook or the table brings, then
/// parts that stand in quotes in the same files, as the head does.
struct Family {
    const char* head;
    std::size_t names;
    std::vector<std::string> files;
};

const std::vector<Family>& families() {
    static const std::vector<Family> all{
        {"brine.density-20C", 1, {"src/materials/brine.cpp"}},
        {"brine.density-slope", 1, {"src/materials/brine.cpp"}},
        {"brine.solubility", 1, {"src/materials/brine.cpp"}},
        {"brine.freezing", 1, {"src/materials/brine.cpp"}},
        {"heat.brine", 1, {"src/materials/heat.cpp"}},
        {"toxin.c-botulinum-nonproteolytic", 1, {"src/materials/safety.cpp"}},
        {"growth", 1, {"src/materials/safety.cpp"}},
        {"muscle", 1, {"src/materials/meat.cpp", "src/materials/diffusion.cpp"}},
        {"cut", 1, {"src/materials/meat.cpp"}},
        {"colour.stable", 1, {"src/materials/colour.cpp"}}, // animals, of a muscle's name
        {"solute", 0, {"src/materials/solutes.cpp", "src/cure/coefficients.cpp"}},
        {"molar-mass", 0, {"src/materials/solutes.cpp", "src/materials/safety.cpp"}},
        {"measure", 1, {"src/materials/measures.cpp"}},
        {"premix", 1, {"src/materials/targets.cpp"}},
        {"target.afterwards", 0, {"src/materials/targets.cpp"}},
        {"practice.pace", 1, {"src/materials/targets.cpp"}}, // each is drawn
        // code and product
        {"limit",
         2,
         {"src/materials/limits.cpp", "src/cure/weigh.cpp", "src/cure/brine_sheet.cpp",
          "src/judge/law.cpp"}},
        {"minimum", 1, {"src/materials/limits.cpp"}},
        {"cause", 0, {"src/inference/causes.cpp", "src/inference/mistakes.cpp"}},
        {"posterior.correlation", 1, {"src/inference/case_inputs.cpp"}},
        {"posterior", 0, {"src/inference/case_inputs.cpp", "src/base/record.cpp"}}};
    return all;
}

/// Whether a part stands in quotes, or is of two that do: "nitrite" and "-ion".
bool said(const std::string& part, const Words& there) {
    return there.contains(part) || std::ranges::any_of(there, [&](const std::string& tail) {
               return tail.starts_with('-') && part.ends_with(tail) &&
                      there.contains(part.substr(0, part.size() - tail.size()));
           });
}

bool belongs(const std::string& key, const Family& family,
             const std::map<std::string, Words>& words) {
    if (!key.starts_with(std::string(family.head) + '.')) {
        return false;
    }
    bool head = false;
    Words there;
    for (const std::string& file : family.files) {
        for (const std::string& word : words.at(file)) {
            head = head || word == family.head || word == std::string(family.head) + '.';
            for (const std::string& part : parts_of(word)) {
                there.insert(part);
            }
        }
    }
    const auto parts = parts_of(key);
    const auto known = static_cast<std::ptrdiff_t>(parts_of(family.head).size() + family.names);
    return head && std::all_of(parts.begin() + std::min(known, std::ssize(parts)), parts.end(),
                               [&](const std::string& part) { return said(part, there); });
}

/// The keys, of those given, that nothing reads.
Words idle(const std::vector<std::string>& keys, const std::map<std::string, Words>& words) {
    Words list(keys.begin(), keys.end());
    std::erase_if(list, [&](const std::string& key) {
        return std::ranges::any_of(words, [&](const auto& w) { return w.second.contains(key); }) ||
               std::ranges::any_of(families(),
                                   [&](const Family& f) { return belongs(key, f, words); });
    });
    return list;
}

/// Whether a free function is called: anywhere but where it is declared or defined, which begins at
/// the first column.
bool called(const std::string& name, const std::map<std::string, std::string>& sources) {
    const auto calls = [call = name + '('](const std::string& text) {
        for (auto at = text.find(call); at != std::string::npos; at = text.find(call, at + 1)) {
            const char before = at > 0 ? text[at - 1] : '\n';
            const bool whole = !std::isalnum(static_cast<unsigned char>(before)) &&
                               std::string("_.>").find(before) == std::string::npos;
            if (const auto line = text.rfind('\n', at) + 1; whole && text[line] == ' ') {
                return true;
            }
        }
        return false;
    };
    return std::ranges::any_of(sources, [&](const auto& s) { return calls(s.second); });
}

std::map<std::string, Words> all_quoted() {
    std::map<std::string, Words> words;
    for (const auto& [name, text] : sources()) {
        words[name] = quoted(text);
    }
    return words;
}

} // namespace

TEST_CASE("every record is read by the program or by one of validation", "[base]") {
    const auto words = all_quoted();
    const auto keys = base::Records::built_in().keys();
    REQUIRE(keys.size() > 100);
    CHECK(idle(keys, words) == Words{});
    for (const Family& family : families()) { // none is left over
        CAPTURE(family.head);
        CHECK(std::ranges::any_of(
            keys, [&](const std::string& key) { return belongs(key, family, words); }));
    }
}

TEST_CASE("a record that nothing reads is found, whatever its head", "[base]") {
    const auto words = all_quoted();
    for (const char* key :
         {"ion.sodium", "reported.caiman.low", "finished.salami-uk.sodium", "kinetics.nordin.ph",
          "solute.nitrate.partition", "muscle.pork-loin.temper", "cut.pork-leg.salt",
          "limit.us.cured.smoked.nitrite", "molar-mass.potassium-nitrite", "cause.fat.factors",
          "posterior.mood.sd", "diffusion.ceiling.more"}) {
        CAPTURE(key);
        CHECK(idle({key}, words) == Words{key});
    }
    CHECK(idle({"muscle.goat-leg.ph", "premix.home.salt", "bone.density"}, words) == Words{});
}

TEST_CASE("every function of a header is called by more than tests", "[base]") {
    const auto all = sources();
    const std::regex declaration(R"((?:^|\n)[a-z][\w:<>,&* ]*[ &*](\w+)\()");
    // Other programs call the api; commands are named in a table; what is under validation is not
    // src.
    const Words not_called{"api", "cli", "page", "posterior"};
    int functions = 0;
    for (const auto& [file, text] : all) {
        const std::string layer = parts_of(boost::replace_all_copy(file, "/", ".")).at(1);
        if (!file.ends_with(".hpp") || not_called.contains(layer)) {
            continue;
        }
        for (std::sregex_iterator it(text.begin(), text.end(), declaration), end; it != end; ++it) {
            ++functions;
            CAPTURE(file, (*it)[1].str());
            CHECK(called((*it)[1], all));
        }
    }
    CHECK(functions > 200);
    CHECK_FALSE(called("nernst_hartley", all));
}

} // namespace test_idle
