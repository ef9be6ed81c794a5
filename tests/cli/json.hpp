// SPDX-License-Identifier: MIT
/// What a command answers as JSON.
#pragma once

#include "run.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <string>

namespace tidemark::cli {

using Json = nlohmann::json;

/// Of a command with its words, which must succeed.
inline Json answer(const Folder& folder, const std::string& words) {
    const Ran ran = folder.run(words + " --json");
    CAPTURE(words, ran.err);
    REQUIRE(ran.code == 0);
    return Json::parse(ran.out);
}

} // namespace tidemark::cli
