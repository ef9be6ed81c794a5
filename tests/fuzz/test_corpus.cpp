// SPDX-License-Identifier: MIT
/// The fuzzers' inputs, kept small, once more in every build: each is read or refused.
#include "targets.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

using namespace tidemark;

TEST_CASE("everything a fuzzer has found is read or refused", "[fuzz]") {
    for (const fuzz::Named& one : fuzz::targets) {
        int files = 0;
        for (const auto& entry : std::filesystem::directory_iterator(
                 TIDEMARK_SOURCE_DIR "/tests/fuzz/corpus/" + std::string(one.name))) {
            CAPTURE(entry.path().string());
            std::ifstream in(entry.path(), std::ios::binary);
            const std::string bytes{std::istreambuf_iterator<char>(in), {}};
            const auto* data = reinterpret_cast<const std::uint8_t*>(bytes.data());
            for (std::size_t count = bytes.size();; count /= 2) { // and its beginnings
                CHECK_NOTHROW(one.target(data, count));
                if (count == 0)
                    break;
            }
            ++files;
        }
        CAPTURE(one.name);
        CHECK(files >= 3);
    }
}
