// SPDX-License-Identifier: MIT
/// Ordered members, the recipe first.
#include "output/json.hpp"

#include "output/json_parts.hpp"

namespace tidemark::output {
namespace {

using json_parts::Json;
using Kind = cure::Figure::Kind;

constexpr double zero_celsius = 273.15;

/// The unit of a kind and how an SI value is written in it.
struct Unit {
    const char* name;
    double factor, offset;
};
Unit unit_of(Kind kind) {
    switch (kind) {
    case Kind::mass:
        return {"kg", 1, 0};
    case Kind::volume:
        return {"L", 1e3, 0};
    case Kind::percent:
        return {"percent", 1e2, 0};
    case Kind::per_kg:
        return {"g/kg", 1e3, 0};
    case Kind::ppm:
        return {"ppm", 1e6, 0};
    case Kind::degrees:
        return {"degrees", 1, 0};
    case Kind::density:
        return {"kg/m3", 1, 0};
    case Kind::temperature:
        break;
    }
    return {"C", 1, -zero_celsius};
}

Json figure(const cure::Figure& f) {
    const Unit unit = unit_of(f.kind);
    const auto in = [&](double value) { return value * unit.factor + unit.offset; };
    return {{"name", f.name},
            {"unit", unit.name},
            {"value", in(f.value)},
            {"low", in(f.low)},
            {"high", in(f.high)}};
}

Json limit(const cure::Dose& d) {
    if (!d.limit) {
        return nullptr;
    }
    return {{"ppm", d.limit->value * 1e6},
            {"printed_ppm", d.limit->printed * 1e6},
            {"counts_the_ion", d.limit->ion},
            {"product", d.limit->product},
            {"method", d.limit->method},
            {"source", d.limit->source},
            {"where", d.limit->where},
            {"mark", std::string(1, d.limit->mark)},
            {"verify_with_your_authority", d.limit->mark == 'M'}};
}

Json dose(const cure::Dose& d) {
    return {{"method", d.method},     {"substance", d.substance}, {"ppm", d.value * 1e6},
            {"low_ppm", d.low * 1e6}, {"high_ppm", d.high * 1e6}, {"judged", d.judged},
            {"limit", limit(d)}};
}

Json chill(const cure::Cooled& c) {
    return {{"hot_salt_percent", c.salt_hot * 1e2},
            {"temperature_c", c.mixed.temperature - zero_celsius},
            {"salt_percent", c.mixed.salt * 1e2},
            {"ice_melted_kg", c.mixed.melted},
            {"limit_c", c.limit - zero_celsius},
            {"below_limit", c.mixed.temperature <= c.limit},
            {"ice_to_limit_kg", c.ice_for_limit},
            {"salt_with_that_ice_percent", c.salt_then * 1e2},
            {"ice_in_place_of_water_kg", c.ice_in_place ? Json(*c.ice_in_place) : Json(nullptr)}};
}

} // namespace

std::string json(const cure::BrineSheet& s, const AskedMeat& meat) {
    Json recipe = Json::array(), figures = Json::object(), doses = Json::array();
    for (const cure::Ingredient& i : s.ingredients) {
        recipe.push_back({{"name", i.name}, {"mass_kg", i.mass}, {"spoon_factor", i.factor}});
    }
    for (const cure::Figure& f : s.figures) {
        figures[f.key] = figure(f);
    }
    for (const cure::Dose& d : s.doses) {
        doses.push_back(dose(d));
    }
    Json object = json_parts::head("brine");
    object.update(Json{{"recipe", recipe},
                       {"brine", figures},
                       {"meat_kg", s.meat() > 0 ? Json(s.meat()) : Json(nullptr)},
                       {"law", s.question.law},
                       {"product", s.question.product},
                       {"ingoing", doses},
                       {"least_nitrite_ppm", s.least ? Json(*s.least * 1e6) : Json(nullptr)},
                       {"fatal_nitrite_g", s.fatal * 1e3},
                       {"chill", s.cooled ? chill(*s.cooled) : Json(nullptr)},
                       {"parameters", json_parts::parameters(s.parameters)}});
    if (s.exact) {
        object["next_command"] = next_command(s, meat);
    }
    object.update(json_parts::findings(s.findings));
    return json_parts::text(object);
}

} // namespace tidemark::output
