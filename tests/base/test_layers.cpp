// SPDX-License-Identifier: MIT
/// The layers of src/ go one way, and each keeps to its trade. Every rule is first shown to catch
/// an offender, then the sources are held against all of them.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <sstream>

namespace {

namespace fs = std::filesystem;

/// A source file: its layer is the first part of `name`, as in "transport/solver.cpp".
struct File {
    std::string name;
    std::string text;
};

std::string layer_of(const std::string& name) {
    return name.substr(0, name.find('/'));
}

/// A layer may include itself and lower ones; of the siblings, geometry alone serves transport, and
/// materials alone the judge.
bool may_include(const std::string& from, const std::string& to) {
    static const std::map<std::string, int> rank{
        {"base", 0},      {"materials", 1}, {"geometry", 1},  {"judge", 2},
        {"transport", 2}, {"cure", 3},      {"inference", 4}, {"output", 5},
        {"cli", 6},       {"api", 6},       {"page", 7}};
    return rank.contains(from) && rank.contains(to) &&
           (from == to ||
            (rank.at(to) < rank.at(from) && !(from == "transport" && to == "materials") &&
             !(from == "judge" && to == "geometry")));
}

std::string without_comments(const std::string& text) {
    return std::regex_replace(text, std::regex("//[^\n]*"), "");
}

bool has(const std::string& text, const char* pattern) {
    return std::regex_search(text, std::regex(pattern, std::regex::icase));
}

std::vector<std::string> complaints(const std::vector<File>& files) {
    std::vector<std::string> list;
    int plotters = 0;
    for (const File& file : files) {
        const std::string layer = layer_of(file.name);
        const auto complain = [&](const std::string& what) {
            list.push_back(file.name + ": " + what);
        };
        if (std::ranges::count(file.text, '\n') > 400) {
            complain("has more than 400 lines");
        }
        const std::regex include("#include *([<\"])([^>\"]+)[>\"]");
        for (std::sregex_iterator it(file.text.begin(), file.text.end(), include), end; it != end;
             ++it) {
            const std::string target = (*it)[2];
            if (target.starts_with("gnuplot-iostream")) {
                ++plotters;
                if (layer != "output" || !file.name.ends_with(".cpp")) {
                    complain("includes " + target);
                }
            } else if ((*it)[1] == "\"" && !may_include(layer, layer_of(target))) {
                complain("includes " + target);
            }
            if (target.starts_with("boost/program_options") && layer != "cli") {
                complain("includes " + target);
            }
            if (layer == "transport" &&
                std::regex_match(target, std::regex("iostream|ostream|fstream|iomanip|cstdio"))) {
                complain("includes " + target);
            }
        }
        const std::string code = without_comments(file.text);
        if (layer != "cli" && layer != "output" && layer != "page" &&
            has(code, "\\bstd::(cout|cerr|clog)\\b|\\b(f?printf|f?puts)\\b")) {
            complain("prints");
        }
        if (layer == "transport" && has(code, "(^|[^a-z])(lean|fat|bone|muscle)s?([^a-z]|$)")) {
            complain("knows a tissue");
        }
    }
    if (plotters > 1) {
        list.push_back("gnuplot-iostream is included in more than one file");
    }
    return list;
}

std::vector<File> sources() {
    std::vector<File> files;
    const fs::path root = fs::path(TIDEMARK_SOURCE_DIR) / "src";
    for (const auto& entry : fs::recursive_directory_iterator(root)) {
        if (entry.path().extension() == ".hpp" || entry.path().extension() == ".cpp") {
            std::ifstream in(entry.path());
            files.push_back({fs::relative(entry.path(), root).generic_string(),
                             {std::istreambuf_iterator<char>(in), {}}});
        }
    }
    return files;
}

} // namespace

TEST_CASE("each rule of the layers catches an offender", "[layers]") {
    struct Row {
        File file;
        std::string complaint;
    };
    const Row row = GENERATE(values<Row>({
        {{"base/a.hpp", "#include \"cure/b.hpp\"\n"}, "includes cure/b.hpp"},
        {{"materials/a.hpp", "#include \"geometry/b.hpp\"\n"}, "includes geometry/b.hpp"},
        {{"geometry/a.hpp", "#include \"materials/b.hpp\"\n"}, "includes materials/b.hpp"},
        {{"transport/a.hpp", "#include \"materials/b.hpp\"\n"}, "includes materials/b.hpp"},
        {{"inference/a.cpp", "#include \"output/b.hpp\"\n"}, "includes output/b.hpp"},
        {{"output/a.cpp", "#include \"cli/b.hpp\"\n"}, "includes cli/b.hpp"},
        {{"cli/a.cpp", "#include \"page/b.hpp\"\n"}, "includes page/b.hpp"},
        {{"geometry/a.cpp", "#include \"mesh.hpp\"\n"}, "includes mesh.hpp"},
        {{"cure/a.cpp", "#include <boost/program_options.hpp>\n"},
         "includes boost/program_options.hpp"},
        {{"cli/a.cpp", "#include <gnuplot-iostream.h>\n"}, "includes gnuplot-iostream.h"},
        {{"output/a.hpp", "#include \"gnuplot-iostream.h\"\n"}, "includes gnuplot-iostream.h"},
        {{"transport/a.cpp", "#include <iomanip>\n"}, "includes iomanip"},
        {{"transport/a.cpp", "double fat_share = 0;\n"}, "knows a tissue"},
        {{"transport/a.cpp", "const char* name = \"Muscle\";\n"}, "knows a tissue"},
        {{"cure/a.cpp", "std::cout << 1;\n"}, "prints"},
        {{"base/a.cpp", "printf(\"1\");\n"}, "prints"},
        {{"base/a.cpp", std::string(401, '\n')}, "has more than 400 lines"},
    }));
    CHECK(complaints({row.file}) == std::vector<std::string>{row.file.name + ": " + row.complaint});
    CHECK(complaints({{"output/a.cpp", "#include <gnuplot-iostream.h>\n"},
                      {"output/b.cpp", "#include <gnuplot-iostream.h>\n"}}) ==
          std::vector<std::string>{"gnuplot-iostream is included in more than one file"});
}

TEST_CASE("what the rules allow gives no complaint", "[layers]") {
    CHECK(complaints({{"transport/a.cpp", "#include \"geometry/b.hpp\"\n#include \"base/c.hpp\"\n"
                                          "bool clean = false; // not in lean or fat\n"},
                      {"cli/a.cpp", "#include <boost/program_options.hpp>\nstd::cout << 1;\n"},
                      {"output/a.cpp", "#include <gnuplot-iostream.h>\n"},
                      {"base/a.cpp", "std::snprintf(b, 1, \"\");\n" + std::string(399, '\n')}})
              .empty());
}

TEST_CASE("the sources keep to their layers", "[layers]") {
    const std::vector<File> files = sources();
    REQUIRE(files.size() > 20);
    for (const std::string& complaint : complaints(files)) {
        FAIL_CHECK(complaint);
    }
}
