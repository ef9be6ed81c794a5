// SPDX-License-Identifier: MIT
#include "output/plan_report.hpp"

#include "output/json_parts.hpp"

namespace tidemark::output {
namespace {

using namespace json_parts;

Json reading(const cure::Reading& r) {
    return {{"day", number(r.time, day)},
            {"mean_salt_percent", number(r.mean_salt, percent)},
            {"core_salt_percent", number(r.core_salt, percent)},
            {"surface_salt_percent", number(r.surface_salt, percent)},
            {"least_salt_percent", number(r.least_salt, percent)},
            {"most_salt_percent", number(r.most_salt, percent)},
            {"spread_percent", number(r.even(), percent)},
            {"core_arrived_ppm", number(r.core_arrived, ppm)},
            {"mean_arrived_ppm", number(r.mean_arrived, ppm)},
            {"core_free_nitrite_ppm", number(r.core_residual, ppm)},
            {"mean_free_nitrite_ppm", number(r.mean_residual, ppm)}};
}

Json bath(const cure::BrineState& b) {
    return {{"salt_percent", number(b.salt, percent)},
            {"nitrite_ppm", number(b.nitrite, ppm)},
            {"kg", number(b.mass)}};
}

Json stages(const cure::PlanResult& r) {
    Json list = Json::array();
    // Where no weight is known there is no piece to count by.
    const auto per_piece = [&](double mass, double unit) {
        return r.weight > 0 ? number(mass, unit) : Json(nullptr);
    };
    for (const cure::StageResult& s : r.stages)
        list.push_back({{"stage", stage_name(s.stage)},
                        {"from_day", number(s.from, day)},
                        {"to_day", number(s.to, day)},
                        {"came_true", s.met},
                        {"barely", s.barely},
                        {"temperature_C", number(s.temperature - 273.15)},
                        {"rub_used_up_day", number(s.gone, day)},
                        {"end", reading(s.end)},
                        {"bath_start", bath(s.bath_start)},
                        {"bath_end", bath(s.bath_end)},
                        {"salt_taken_g", per_piece(s.salt_taken, 1e-3)},
                        {"salt_left_behind_g", per_piece(s.salt_left, 1e-3)},
                        {"nitrite_taken_mg", per_piece(s.nitrite_taken, 1e-6)},
                        {"nitrite_left_behind_mg", per_piece(s.nitrite_left, 1e-6)}});
    return list;
}

Json ranges(const inference::ScheduleRange& s) {
    const auto days = [](const inference::DayRange& d) {
        return Json{{"early", number(d.early, day)},
                    {"half", number(d.half, day)},
                    {"late", number(d.late, day)}};
    };
    return {{"draws", s.draws},
            {"runs", s.runs},
            {"cured_days", days(s.cured)},
            {"ready_days", days(s.ready)},
            {"chance_cured", s.chance_cured},
            {"mean_salt_percent",
             {{"low", number(s.salt_low, percent)},
              {"half", number(s.salt_half, percent)},
              {"high", number(s.salt_high, percent)}}},
            {"error", s.error}};
}

} // namespace

std::string plan_json(const cure::PlanResult& r,
                      const std::optional<inference::ScheduleRange>& range,
                      const std::optional<inference::ScheduleChance>& chance) {
    Json doses = Json::array(), course = Json::array();
    for (const cure::MethodDose& d : r.doses)
        doses.push_back({{"method", d.method},
                         {"ppm", number(d.nitrite, ppm)},
                         {"limit_ppm", d.limit ? Json(d.limit->value / ppm) : Json(nullptr)}});
    for (const cure::Reading& c : r.course)
        course.push_back(reading(c));
    Json object = head("plan");
    if (chance) {
        object.update(best(chance->best, {}));
        object["best_day_ends_stage"] = chance->stage + 1;
        object["chance_as_planned"] = chance->as_planned.right;
    }
    object.update(
        Json{{"schedule", r.plan.name},
             {"has_nitrite", r.has_nitrite},
             {"target", r.has_nitrite ? number(r.target, ppm) : number(r.target, percent)},
             {"cured_day", number(r.cured, day)},
             {"cured_error_days", number(r.cured_error, day)},
             {"lasting_colour_day", number(r.lasting, day)},
             {"last_good_day", number(r.last_good, day)},
             {"last_good_reason", r.last_good_reason},
             {"range", range ? ranges(*range) : Json(nullptr)},
             {"surface_depth_mm", number(r.surface_depth, 1e-3)},
             {"start", reading(r.start)},
             {"stages", stages(r)},
             {"core",
              {{"x_mm", number(r.core.x, 1e-3)},
               {"y_mm", number(r.core.y, 1e-3)},
               {"depth_mm", number(r.core.depth, 1e-3)},
               {"between_needles", r.core_between_needles}}},
             {"doses", doses},
             {"ingoing_ppm", number(r.ingoing, ppm)},
             {"ingoing_limit_ppm", number(r.ingoing_limit, ppm)},
             {"gain_percent", number(r.gain, percent)},
             {"weight_kg", number(r.weight)},
             {"hands", r.hands},
             {"thiele_modulus", number(r.thiele)},
             {"mass_balance_error", number(r.mass_balance_error)},
             {"mean_salt_error_percent", number(r.salt_error, percent)},
             {"course", course},
             {"parameters", parameters(r.parameters)}});
    object.update(findings(r.findings));
    return text(object);
}

} // namespace tidemark::output
