// SPDX-License-Identifier: MIT
#include "output/json.hpp"
#include "output/json_parts.hpp"

namespace tidemark::output {
namespace {

using namespace inference;
using json_parts::Json;

constexpr std::size_t index(Lesson which) {
    return static_cast<std::size_t>(which);
}

Json lesson_json(const Learnt& l, Lesson which) {
    const std::string& reason = l.reason[index(which)];
    return {{"told", l.told[index(which)]},
            {"reason", reason.empty() ? Json(nullptr) : Json(reason)},
            {"low", l.quantile(which, 0.05)},
            {"half", l.quantile(which, 0.5)},
            {"high", l.quantile(which, 0.95)},
            {"log_sd", l.log_sd(which)},
            {"log_sd_before", l.log_sd_before(which)}};
}

} // namespace

std::string json(const LearnAnswer& a) {
    Json batches = Json::array();
    for (std::size_t i = 0; i < a.batches.size(); ++i) {
        const Batch& b = a.batches[i];
        batches.push_back(
            {{"line", b.line},
             {"date", b.date},
             {"batch", b.name},
             {"day", b.slice.time / 86400},
             {"ring_mm", json_parts::number(b.slice.every, 1e-3)},
             {"ring_top_mm", json_parts::number(b.slice.top, 1e-3)},
             {"ring_bottom_mm", json_parts::number(b.slice.bottom, 1e-3)},
             {"ring_left_mm", json_parts::number(b.slice.left, 1e-3)},
             {"ring_right_mm", json_parts::number(b.slice.right, 1e-3)},
             {"grey_mm", json_parts::number(b.slice.core_height, 1e-3)},
             {"grey_width_mm", json_parts::number(b.slice.core_width, 1e-3)},
             {"pink_through", b.slice.through},
             {"found_core_salt_percent",
              json_parts::number(b.slice.found[static_cast<std::size_t>(Look::core_salt)], 1e-2)},
             {"found_mean_salt_percent",
              json_parts::number(b.slice.found[static_cast<std::size_t>(Look::mean_salt)], 1e-2)},
             {"predicted_half_day", json_parts::number(b.half, 86400)},
             {"predicted_late_day", json_parts::number(b.late, 86400)},
             {"surprise", a.learnt.surprises[i]},
             {"command", b.command}});
    }
    Json object = json_parts::head("learn");
    object.update(Json{{"notebook", a.notebook},
                       {"muscle", a.muscle},
                       {"added", a.added},
                       {"pace_of_nitrite", lesson_json(a.learnt, Lesson::nitrite)},
                       {"pace_of_salt", lesson_json(a.learnt, Lesson::salt)},
                       {"loss_of_nitrite", lesson_json(a.learnt, Lesson::loss)},
                       {"spread_of_pieces", lesson_json(a.learnt, Lesson::pieces)},
                       {"bound_only", a.learnt.bound},
                       {"conflicts", a.learnt.conflicts},
                       {"next", a.next},
                       {"cured_day_by_records", json_parts::days(a.by_records)},
                       {"cured_day_by_shop", json_parts::days(a.by_shop)},
                       {"cured_day_of_pieces", json_parts::days(a.of_pieces)},
                       {"batches", batches}});
    object.update(json_parts::findings(a.findings));
    return json_parts::text(object);
}

} // namespace tidemark::output
