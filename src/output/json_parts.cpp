// SPDX-License-Identifier: MIT
#include "output/json_parts.hpp"

#include <cmath>

namespace tidemark::output::json_parts {

Json number(double value, double unit) {
    return std::isfinite(value) ? Json(value / unit) : Json(nullptr);
}

Json number(const std::optional<double>& value, double unit) {
    return value ? number(*value, unit) : Json(nullptr);
}

Json head(const std::string& command) {
    return {{"program", "tidemark"},
            {"version", TIDEMARK_VERSION},
            {"schema", schema},
            {"command", command}};
}

Json of_day(const inference::DayChance& d) {
    return {{"day", number(d.time, day)},
            {"cured", d.cured},
            {"in_band", d.in_band},
            {"right", d.right}};
}

Json best(const inference::BestDay& b, const Advised& advised) {
    Json tried = Json::array(), by_day = Json::array();
    for (const inference::Tried& t : advised.changes.tried)
        tried.push_back({{"what", t.what}, {"day", number(t.day, day)}, {"chance", t.chance}});
    for (const inference::DayChance& d : b.by_day)
        by_day.push_back(of_day(d));
    Json change = nullptr;
    if (const auto& c = advised.changes.best)
        change = {{"what", c->what},
                  {"command", advised.command},
                  {"day", number(c->day, day)},
                  {"chance", c->chance},
                  {"window_from_day", c->window ? number(c->window->first, day) : Json(nullptr)},
                  {"window_to_day", c->window ? number(c->window->second, day) : Json(nullptr)},
                  {"enough", c->enough},
                  {"longer_than_cold_alone_keeps", c->too_long}};
    Json shares = nullptr;
    if (b.best)
        shares = {{"grey", b.best->grey},
                  {"too_salty", b.best->salty},
                  {"not_salty_enough", b.best->bland}};
    return {{"best_day", b.best ? number(b.best->time, day) : Json(nullptr)},
            {"chance", b.best ? Json(b.best->right) : Json(nullptr)},
            {"chance_error", b.error},
            {"confidence", b.confidence},
            {"not_right_on_best_day", shares},
            {"window_from_day", b.window ? number(b.window->first, day) : Json(nullptr)},
            {"window_to_day", b.window ? number(b.window->second, day) : Json(nullptr)},
            {"change", change},
            {"changes_tried", tried},
            {"changes_left_out", advised.changes.left_out},
            {"chance_by_day", by_day}};
}

Json days(const inference::DayRange& r) {
    return {{"early_5_percent", number(r.early, day)},
            {"half", number(r.half, day)},
            {"late_95_percent", number(r.late, day)},
            {"share_never", r.share_never}};
}

Json parameters(const std::vector<base::Record>& records) {
    Json list = Json::array();
    for (const base::Record& r : records) {
        Json valid = Json::array();
        for (const base::Validity& range : r.valid)
            valid.push_back(range.text);
        list.push_back({{"key", r.key},
                        {"value", number(r.value)},
                        {"unit", r.unit},
                        {"spread", r.spread},
                        {"valid", valid},
                        {"mark", std::string(1, r.mark)},
                        {"source", r.source},
                        {"where", r.where},
                        {"note", r.note}});
    }
    return list;
}

Json findings(const judge::Findings& f) {
    return {{"dangers", f.dangers()}, {"warnings", f.warnings()}, {"cautions", f.cautions()}};
}

std::string text(const Json& object) {
    // Text from the user's files was checked to be UTF-8; anything else is shown, not refused.
    const std::string wide = object.dump(2, ' ', false, Json::error_handler_t::replace);
    // A list of bare numbers stands on one line.
    std::string out;
    for (std::size_t k = 0; k < wide.size();) {
        std::size_t end = k + 1;
        if (wide[k] == '"')
            for (; wide[end] != '"'; ++end)
                end += wide[end] == '\\';
        else if (wide[k] == '[')
            end = wide.find_first_not_of("0123456789+-.e, \n", k + 1);
        if (wide[k] != '[' || wide[end] != ']') {
            end = wide[k] == '"' ? end + 1 : k + 1;
            out.append(wide, k, end - k);
        } else {
            for (; k <= end; ++k)
                if (wide[k] != ' ' && wide[k] != '\n')
                    out += wide[k] == ',' ? ", " : std::string(1, wide[k]);
            ++end;
        }
        k = end;
    }
    return out + '\n';
}

} // namespace tidemark::output::json_parts
