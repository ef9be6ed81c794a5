// SPDX-License-Identifier: MIT
/// Ordered members, the answer first.
#include "output/json.hpp"

#include "output/json_parts.hpp"

namespace tidemark::output {
namespace {

using namespace json_parts;

/// Zero stands for "not known" in the case and the prediction.
Json known(double value, double unit = 1) {
    return value > 0 ? number(value, unit) : Json(nullptr);
}

Json contents(const cure::Spot& spot) {
    return {{"salt_percent", number(spot.salt, percent)},
            {"water_phase_salt_percent", number(spot.water_salt, percent)},
            {"arrived_nitrite_ppm", number(spot.arrived, ppm)},
            {"residual_nitrite_ppm", number(spot.residual, ppm)},
            {"share_of_equilibrium", number(spot.of_equilibrium)}};
}

Json core(const cure::Spot& spot) {
    Json object = {{"x_mm", number(spot.x, mm)},
                   {"y_mm", number(spot.y, mm)},
                   {"depth_mm", number(spot.depth, mm)}};
    object.update(contents(spot));
    return object;
}

Json brine(const cure::BrineState& state) {
    return {{"salt_percent", number(state.salt, percent)},
            {"nitrite_ppm", number(state.nitrite, ppm)},
            {"mass_kg", number(state.mass)}};
}

Json piece(const cure::Prediction& p) {
    const cure::Piece& piece = p.question.piece;
    return {{"muscle", piece.muscle},
            {"shape", piece.shape},
            {"thickness_mm", known(piece.dimensions.thickness, mm)},
            {"width_mm", known(piece.dimensions.width, mm)},
            {"length_mm", known(p.length, mm)},
            {"weight_kg", known(p.weight)},
            {"pieces", piece.pieces},
            {"cooler_c", number(p.question.temperature - 273.15)}};
}

Json target(const cure::Prediction& p) {
    return {{"arrived_nitrite_ppm", p.has_nitrite ? number(p.target, ppm) : Json(nullptr)},
            {"lasting_colour_ppm", p.has_nitrite ? number(p.stable_target, ppm) : Json(nullptr)},
            {"salt_percent", p.has_nitrite ? Json(nullptr) : number(p.target, percent)}};
}

Json derived(const cure::Prediction& p) {
    Json list = Json::array();
    for (const cure::Derived& d : p.derived) {
        list.push_back({{"name", d.name}, {"value", number(d.si)}, {"unit", d.unit}});
    }
    return list;
}

Json range(const std::optional<inference::Ranges>& r) {
    if (!r) {
        return nullptr;
    }
    Json shares = Json::array();
    for (const inference::SpreadShare& s : r->shares) {
        shares.push_back({{"input", s.group},
                          {"name", s.name},
                          {"measure", s.remedy},
                          {"first_order", number(s.first)},
                          {"total", number(s.total)}});
    }
    return {{"draws", r->draws},
            {"cured_day", days(r->pull)},
            {"lasting_colour_day", days(r->lasting)},
            {"salted_day", days(r->salted)},
            {"last_good_day", days(r->last_good)},
            {"spread_from", shares},
            {"relative_error", number(r->error)},
            {"brine_salt_low_percent", number(r->brine_salt_low, percent)},
            {"ingoing_nitrite_high_ppm", number(r->ingoing_high, ppm)}};
}

} // namespace

std::string json(const cure::Prediction& p, const std::optional<inference::Ranges>& ranges,
                 const Advised& advised) {
    judge::Findings findings = p.findings;
    if (ranges) {
        findings.supersede(ranges->findings);
    }
    Json object = head("day");
    object["title"] = p.title;
    if (ranges) {
        object.update(best(ranges->best, advised));
    }
    object.update(Json{{"piece", piece(p)},
                       {"pull_day", number(p.pull, day)},
                       {"lasting_colour_day", number(p.stable, day)},
                       {"salted_day", number(p.salted, day)},
                       {"last_good_day", number(p.last_good, day)},
                       {"last_good_reason", p.last_good_reason},
                       {"never_cured_because", p.never.empty() ? Json(nullptr) : Json(p.never)},
                       {"range", range(ranges)},
                       {"at_day", number(p.at, day)},
                       {"target", target(p)},
                       {"core", core(p.core)},
                       {"mean", contents(p.mean)},
                       {"brine", brine(p.brine_end)},
                       {"brine_at_start", brine(p.brine_start)},
                       {"ingoing_nitrite",
                        {{"whole_system_ppm", number(p.ingoing.whole_system, ppm)},
                         {"limit_ppm", number(p.ingoing.limit, ppm)},
                         {"note", p.ingoing.note}}},
                       {"thiele_modulus", number(p.thiele)},
                       {"fourier_number", number(p.fourier)},
                       {"mass_balance_error", number(p.mass_balance_error)},
                       {"discretisation_error_days", number(p.discretisation_error, day)},
                       {"time_error", number(p.time_error)},
                       {"parameters", parameters(p.parameters)},
                       {"derived", derived(p)},
                       {"dangers", findings.dangers()},
                       {"warnings", findings.warnings()},
                       {"cautions", findings.cautions()}});
    return text(object);
}

} // namespace tidemark::output
