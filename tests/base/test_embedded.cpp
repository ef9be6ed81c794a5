// SPDX-License-Identifier: MIT
/// What is compiled in is what is in models/, byte for byte, and the step that does it is faithful.
#include "base/embedded.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

using namespace tidemark::base;
namespace fs = std::filesystem;

namespace {

std::string bytes_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

/// Runs the embedding step over one file holding `text`; its output, or "" if it refused.
std::string embed(const std::string& text) {
    const fs::path folder = fs::path(TIDEMARK_BINARY_DIR) / "test-embed";
    fs::create_directories(folder);
    std::ofstream(folder / "odd.ini", std::ios::binary) << text;
    const std::string command = "cmake -DOUT=\"" + (folder / "out.cpp").string() + "\" -DFILES=\"" +
                                (folder / "odd.ini").string() +
                                "\" -P \"" TIDEMARK_SOURCE_DIR "/src/base/embed.cmake\" 2>\"" +
                                (folder / "log").string() + '"';
    const bool done = std::system(command.c_str()) == 0;
    const std::string code = done ? bytes_of(folder / "out.cpp") : "";
    fs::remove_all(folder);
    return code;
}

} // namespace

TEST_CASE("every file of models/ is compiled in exactly, in alphabetical order", "[base]") {
    std::vector<fs::path> files;
    for (const auto& entry : fs::directory_iterator(TIDEMARK_SOURCE_DIR "/models")) {
        if (entry.path().extension() == ".ini") {
            files.push_back(entry.path());
        }
    }
    std::ranges::sort(files);
    const std::vector<Embedded> models = embedded_models();
    REQUIRE(!files.empty());
    REQUIRE(models.size() == files.size());
    for (std::size_t i = 0; i < files.size(); ++i) {
        CHECK(models[i].name == files[i].filename().string());
        CHECK(models[i].text == bytes_of(files[i]));
    }
}

TEST_CASE("signs that mean something to the build do not change a text", "[base]") {
    std::string text =
        "a;b;;c [x] ]] [[ \\n \\ \\; \"q\" 'q' ${HOME} @HOME@ $ENV{HOME} #1 // µ½°é ;\n"
        "a line ending in a backslash \\\n; the end ]";
    SECTION("short") {}
    SECTION("above 64 kB") {
        while (text.size() < 70000) {
            text += text;
        }
    }
    CHECK(embed(text).find("R\"TIDEMARK(" + text + ")TIDEMARK\"") != std::string::npos);
}

TEST_CASE("a text that would end its own literal is refused", "[base]") {
    CHECK(embed("harmless )TIDEMARK").size() > 0);
    CHECK(embed("harmful )TIDEMARK\"").empty());
}
