// SPDX-License-Identifier: MIT
/// One vocabulary for the JSON of all commands: the same key for the same thing, its unit in the
/// key. Days from the start, shares of 1 unless the key says percent or ppm.
#pragma once

#include "base/record.hpp"
#include "inference/ranges.hpp"
#include "inference/why.hpp"
#include "judge/finding.hpp"
#include "output/best_view.hpp"

#include <nlohmann/json.hpp>

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace tidemark::output::json_parts {

using Json = nlohmann::ordered_json;

constexpr double day = 86400, percent = 1e-2, ppm = 1e-6, mm = 1e-3; ///< SI over the unit

/// What a slice shows [m], and the keys of it.
constexpr std::pair<const char*, std::optional<double> inference::Slice::*> readings[] = {
    {"ring_mm", &inference::Slice::every},           {"ring_top_mm", &inference::Slice::top},
    {"ring_bottom_mm", &inference::Slice::bottom},   {"ring_left_mm", &inference::Slice::left},
    {"ring_right_mm", &inference::Slice::right},     {"grey_mm", &inference::Slice::core_height},
    {"grey_width_mm", &inference::Slice::core_width}};

/// Of the keys and what they mean: raised when one changes its meaning or goes.
constexpr int schema = 4;

/// A value in a unit; null when it is not finite, which JSON cannot write.
Json number(double value, double unit = 1);
Json number(const std::optional<double>& value, double unit = 1);

/// program, version, schema, command.
Json head(const std::string& command);
/// The shares of one day.
Json of_day(const inference::DayChance& d);
/// best_day, chance, window, change, chance_by_day.
Json best(const inference::BestDay& day, const Advised& advised);
/// Of a look at a piece that stays: what was seen, and from when its core is cured.
Json still(const inference::Still& still);
/// early_5_percent, half, late_95_percent, share_never.
Json days(const inference::DayRange& range);
Json parameters(const std::vector<base::Record>& records);
/// dangers, warnings, cautions.
Json findings(const judge::Findings& findings);

/// The object as printed.
std::string text(const Json& object);

} // namespace tidemark::output::json_parts
