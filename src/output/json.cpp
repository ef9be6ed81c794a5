// SPDX-License-Identifier: MIT
/// Ordered members, the answer first.
#include "output/json.hpp"

#include "base/calendar.hpp"
#include "output/json_parts.hpp"
#include "output/words.hpp"

#include <cmath>

namespace tidemark::output {
namespace {

using namespace json_parts;

/// Zero stands for "not known" in the outcome.
Json known(double value, double unit = 1) {
    return value > 0 ? number(value, unit) : Json(nullptr);
}
Json words_or_null(const std::string& words) {
    return words.empty() ? Json(nullptr) : Json(words);
}

Json contents(const cure::Spot& spot) {
    return {{"salt_percent", number(spot.salt, percent)},
            {"water_phase_salt_percent", number(spot.water_salt, percent)},
            {"arrived_nitrite_ppm", number(spot.arrived, ppm)},
            {"residual_nitrite_ppm", number(spot.residual, ppm)},
            {"share_of_equilibrium", known(spot.of_equilibrium)}};
}

Json core(const cure::PieceOutcome& p) {
    Json object = {{"x_mm", number(p.core.x, mm)},
                   {"y_mm", number(p.core.y, mm)},
                   {"depth_mm", number(p.core.depth, mm)},
                   {"between_needles", p.core_between_needles}};
    object.update(contents(p.core));
    return object;
}

Json bath(const cure::BrineState& b) {
    return {{"salt_percent", number(b.salt, percent)},
            {"nitrite_ppm", number(b.nitrite, ppm)},
            {"mass_kg", number(b.mass)}};
}

Json brine_by_day(const cure::Outcome& o) {
    Json list = Json::array();
    for (const cure::BrineDay& d : o.brine) {
        list.push_back({{"day", number(d.time, day)}});
        list.back().update(bath(d.brine));
    }
    return list;
}

Json reading(const cure::Reading& r) {
    return {{"day", number(r.time, day)},
            {"mean_salt_percent", number(r.mean_salt, percent)},
            {"core_salt_percent", number(r.core_salt, percent)},
            {"surface_salt_percent", number(r.surface_salt, percent)},
            {"least_salt_percent", number(r.least_salt, percent)},
            {"most_salt_percent", number(r.most_salt, percent)},
            {"unevenness_percent", number(r.even(), percent)},
            {"core_arrived_ppm", number(r.core_arrived, ppm)},
            {"mean_arrived_ppm", number(r.mean_arrived, ppm)},
            {"core_free_nitrite_ppm", number(r.core_residual, ppm)},
            {"mean_free_nitrite_ppm", number(r.mean_residual, ppm)}};
}

Json stages(const cure::PieceOutcome& p) {
    Json list = Json::array();
    // Where no weight is known there is no piece to count by.
    const auto per_piece = [&](double mass, double unit) {
        return p.weight > 0 ? number(mass, unit) : Json(nullptr);
    };
    for (const cure::StageResult& s : p.stages)
        list.push_back({{"stage", stage_name(s.stage)},
                        {"from_day", number(s.from, day)},
                        {"to_day", number(s.to, day)},
                        {"came_true", s.met},
                        {"barely", s.barely},
                        {"temperature_c", number(s.temperature - 273.15)},
                        {"rub_used_up_day", number(s.gone, day)},
                        {"end", reading(s.end)},
                        {"brine_at_start", bath(s.bath_start)},
                        {"brine", bath(s.bath_end)},
                        {"salt_taken_g", per_piece(s.salt_taken, 1e-3)},
                        {"salt_left_behind_g", per_piece(s.salt_left, 1e-3)},
                        {"nitrite_taken_mg", per_piece(s.nitrite_taken, 1e-6)},
                        {"nitrite_left_behind_mg", per_piece(s.nitrite_left, 1e-6)}});
    return list;
}

Json about(const cure::PieceOutcome& p) {
    return {{"muscle", p.piece.muscle},
            {"called", cure::cut_name(p.piece)},
            {"shape", p.piece.shape},
            {"thickness_mm", known(p.piece.dimensions.thickness, mm)},
            {"width_mm", known(p.piece.dimensions.width, mm)},
            {"length_mm", known(p.length, mm)},
            {"sealed", p.piece.dimensions.sealed},
            {"weight_kg", known(p.weight)},
            {"pieces", p.piece.pieces}};
}

/// A point or a line, to a thousandth of a millimetre.
Json points(const std::vector<geometry::Point>& line) {
    const auto to = [](double x) { return std::round(x / 1e-6) * 1e-3 + 0.0; };
    Json list = Json::array();
    for (const geometry::Point& p : line)
        list.push_back({to(p.x()), to(p.y())});
    return list;
}
template <class Lines> Json lines(const Lines& all) {
    Json list = Json::array();
    for (const auto& line : all)
        list.push_back(points({line.begin(), line.end()}));
    return list;
}

/// The section and how far the cure has come in it, for others to draw.
Json section(const std::vector<cure::Picture>& days) {
    const geometry::Section& s = days.front().section;
    Json regions = Json::array(), fronts = Json::array();
    for (const geometry::Region& r : s.regions)
        regions.push_back({{"name", r.name}, {"tissue", r.kind}, {"ring_mm", points(r.ring)}});
    for (const cure::Picture& p : days) {
        fronts.push_back({{"day", number(p.time, day)},
                          {"lines_mm", p.fronts.empty() ? Json::array() : lines(p.fronts[0].lines)},
                          {"not_cured_mm", lines(p.uncured)},
                          {"no_lasting_colour_mm", lines(p.unlasting)}});
    }
    return {{"outline_mm", points(s.outline)},
            {"regions", regions},
            {"core_mm", points({days.front().core})[0]},
            {"fronts", fronts}};
}

/// The parts of a piece's object that are told day by day.
Json by_days(const cure::ByDay& told) {
    Json list = Json::array();
    for (const cure::Reading& c : told.course)
        list.push_back(reading(c));
    return {{"course", list},
            {"section", told.pictures.empty() ? Json(nullptr) : section(told.pictures)}};
}

/// Adds them; the width that a shape has of itself is the section's.
void tell_by_days(Json& object, const cure::ByDay& told) {
    object.update(by_days(told));
    Json& of = object["piece"];
    if (of["width_mm"].is_null() && of["shape"] != "sheet" && !told.pictures.empty())
        of["width_mm"] = number(told.pictures.front().section.width, mm);
}

/// All that is told of one piece.
Json piece(const cure::PieceOutcome& p, bool nitrite) {
    return {{"piece", about(p)},
            {"cured_day", number(p.cured, day)},
            {"lasting_colour_day", number(p.lasting, day)},
            {"salted_day", number(p.salted, day)},
            {"last_good_day", number(p.last_good, day)},
            {"last_good_reason", words_or_null(p.last_good_reason)},
            {"never_cured_because", words_or_null(p.never)},
            {"discretisation_error_days", number(p.cured_error, day)},
            {"target",
             {{"arrived_nitrite_ppm", nitrite ? number(p.target, ppm) : Json(nullptr)},
              {"first_pink_ppm", nitrite ? number(p.pink_target, ppm) : Json(nullptr)},
              {"lasting_colour_ppm", nitrite ? number(p.stable_target, ppm) : Json(nullptr)},
              {"salt_percent", nitrite ? Json(nullptr) : number(p.target, percent)}}},
            {"core", core(p)},
            {"mean", contents(p.mean)},
            {"mean_salt_error_percent", number(p.salt_error, percent)},
            {"thiele_modulus", number(p.thiele)},
            {"fourier_number", number(p.fourier)},
            {"surface_depth_mm", number(p.surface_depth, mm)},
            {"start", reading(p.start)},
            {"stages", stages(p)}};
}

Json range(const inference::Ranges& r) {
    Json shares = Json::array();
    for (const inference::SpreadShare& s : r.shares)
        shares.push_back({{"input", s.group},
                          {"name", s.name},
                          {"measure", s.remedy},
                          {"owner", s.owner},
                          {"first_order", number(s.first)},
                          {"total", number(s.total)}});
    Json mistakes = Json::array();
    for (const inference::Mistake& m : r.mistakes)
        mistakes.push_back({{"name", m.name},
                            {"measure", m.remedy},
                            {"share_of_pieces", number(m.share)},
                            {"cured_day", days(m.cured)},
                            {"grey_on_best_day", number(m.grey)}});
    return {{"draws", r.draws},
            {"cured_day", days(r.pull)},
            {"lasting_colour_day", days(r.lasting)},
            {"salted_day", days(r.salted)},
            {"last_good_day", days(r.last_good)},
            {"spread_from", shares},
            {"mistakes", mistakes},
            {"relative_error", number(r.error)},
            {"brine_salt_low_percent", number(r.brine_salt_low, percent)},
            {"ingoing_nitrite_high_ppm", number(r.ingoing_high, ppm)}};
}

Json range(const inference::ScheduleRange& s) {
    return {{"draws", s.draws},
            {"runs", s.runs},
            {"cured_day", days(s.cured)},
            {"ready_day", days(s.ready)},
            {"chance_cured", s.chance_cured},
            {"mean_salt_percent",
             {{"early_5_percent", number(s.salt_low, percent)},
              {"half", number(s.salt_half, percent)},
              {"late_95_percent", number(s.salt_high, percent)}}},
            {"relative_error", s.error}};
}

Json ingoing(const cure::Outcome& o) {
    Json doses = Json::array();
    for (const cure::MethodDose& d : o.ingoing.doses)
        doses.push_back({{"method", d.method},
                         {"ppm", number(d.nitrite, ppm)},
                         {"limit_ppm", d.limit ? number(d.limit->value, ppm) : Json(nullptr)}});
    return {{"whole_system_ppm", number(o.ingoing.whole_system, ppm)},
            {"limit_ppm", number(o.ingoing.limit, ppm)},
            {"note", words_or_null(o.ingoing.note)},
            {"doses", doses}};
}

Json derived(const cure::Outcome& o) {
    Json list = Json::array();
    for (const cure::Derived& d : o.derived)
        list.push_back({{"name", d.name}, {"value", number(d.si)}, {"unit", d.unit}});
    return list;
}

Json pieces(const inference::Answer& a, const std::vector<cure::ByDay>& by_day,
            const Advised& change) {
    const cure::Outcome& o = a.outcome;
    Json list = Json::array();
    for (std::size_t k = 0; k < o.pieces.size(); ++k) {
        list.push_back({{"name", o.pieces[k].name}});
        if (!a.chances.empty()) { // the change is to mend the least sure
            const bool mended = &a.chances[k] == &inference::least_sure(a.chances);
            list.back().update(best(a.chances[k], mended ? change : Advised{}));
            if (const auto& kept = a.chances[k].as_set)
                list.back()["chance_as_planned"] = kept->right;
        }
        list.back().update(piece(o.pieces[k], o.has_nitrite));
        if (k < by_day.size())
            tell_by_days(list.back(), by_day[k]);
    }
    return list;
}

} // namespace

std::string json(const std::string& command, const inference::Answer& a,
                 const std::string& change_command, const std::vector<cure::ByDay>& by_day) {
    const cure::Outcome& o = a.outcome;
    const cure::Case& base = o.question.base;
    Json object = head(command);
    object["title"] = o.pieces.size() > 1 ? kinds_in_one_brine(o) : o.title;
    if (a.ranges)
        object.update(best(a.ranges->best, {a.changes, change_command}));
    if (a.ranges && a.ranges->asked)
        object["asked_day"] = of_day(*a.ranges->asked);
    if (a.chance) {
        object.update(best(a.chance->best, {a.changes, change_command}));
        object["best_day_ends_stage"] = a.chance->stage + 1;
        object["chance_as_planned"] = a.chance->as_planned.right;
    }
    if (o.question.start)
        object["begin"] = base::format_moment(*o.question.start, "%Y-%m-%d %H:%M");
    if (o.question.ready)
        object["ready"] = base::format_moment(*o.question.ready, "%Y-%m-%d %H:%M");
    if (o.question.ready && o.question.start)
        object["begin_is_past"] = cure::too_late(o.question);
    object["at_day"] = number(o.at, day);
    object["has_nitrite"] = o.has_nitrite;
    if (o.pieces.size() == 1) {
        object.update(piece(o.first(), o.has_nitrite));
        if (!by_day.empty())
            tell_by_days(object, by_day.front());
    } else {
        object["slowest"] = o.slowest().name;
        object["all_cured_day"] = number(o.slowest().cured, day);
        object["take_out"] = o.take_out;
        object["pieces"] = pieces(a, by_day, {a.changes, change_command});
        if (!a.chances.empty())
            for (const char* key : {"change", "changes_tried", "changes_left_out"})
                object[key] =
                    best(inference::least_sure(a.chances), {a.changes, change_command})[key];
    }
    if (a.still)
        object["seen"] = still(*a.still);
    object["range"] = a.ranges           ? range(*a.ranges)
                      : a.schedule_range ? range(*a.schedule_range)
                                         : Json(nullptr);
    const cure::StageResult& first = o.first().stages.front();
    object.update(Json{{"brine", bath(o.first().stages.back().bath_end)},
                       {"brine_at_start", bath(first.bath_start)},
                       {"brine_by_day", brine_by_day(o)},
                       {"law", base.law},
                       {"product", base.product},
                       {"ingoing_nitrite", ingoing(o)},
                       {"cooler_c", number(base.temperature - 273.15)},
                       {"meat_kg", known(o.meat)},
                       {"gain_percent", number(o.gain, percent)},
                       {"salt_used_kg", number(o.salt_used)},
                       {"nitrite_used_g", number(o.nitrite_used, 1e-3)},
                       {"hands", o.hands},
                       {"mass_balance_error", number(o.mass_balance_error)},
                       {"time_error", number(o.time_error)},
                       {"cells", o.cells},
                       {"parameters", parameters(o.parameters)},
                       {"derived", derived(o)}});
    object.update(findings(a.outcome.findings));
    return text(object);
}

std::string json(const std::string& command, const judge::Findings& found) {
    Json object = head(command);
    object["answer"] = nullptr;
    object.update(findings(found));
    return text(object);
}

std::string json(const base::Records& records, const std::vector<std::string>& keys) {
    std::vector<base::Record> numbers;
    Json sources = Json::object();
    for (const std::string& key : keys) {
        numbers.push_back(*records.find(key));
        if (const base::Source* source = records.source(numbers.back().source))
            sources[source->key] = source->citation;
    }
    Json object = head("numbers");
    object["numbers"] = parameters(numbers);
    object["sources"] = sources;
    return text(object);
}

} // namespace tidemark::output
