// SPDX-License-Identifier: MIT
#include "output/json.hpp"
#include "output/json_parts.hpp"

namespace tidemark::output {

using namespace json_parts;

std::string json(const cure::Choice& c, const inference::Ways& ways, const std::string& command) {
    Json methods = Json::array();
    for (std::size_t k = 0; k < c.methods.size(); ++k) {
        const cure::Method& m = c.methods[k];
        const cure::Outcome& r = m.result;
        const cure::Reading& e = r.first().stages.back().end;
        const inference::Way& w = ways.list[k];
        methods.push_back({{"method", m.name},
                           {"made", m.made},
                           {"schedule", w.schedule},
                           {"out_of_cure_from_day", number(m.pull, day)},
                           {"out_of_cure_to_day", number(m.latest, day)},
                           {"ready_day", number(w.ready, day)},
                           {"mean_salt_percent", 100 * e.mean_salt},
                           {"core_salt_percent", 100 * e.core_salt},
                           {"core_arrived_ppm", 1e6 * e.core_arrived},
                           {"unevenness_percent", 100 * e.even()},
                           {"ingoing_nitrite",
                            {{"whole_system_ppm", number(r.ingoing.whole_system, ppm)},
                             {"limit_ppm", number(r.ingoing.limit, ppm)}}},
                           {"salt_used_kg", number(r.salt_used)},
                           {"nitrite_used_g", number(r.nitrite_used, 1e-3)},
                           {"hands", r.hands},
                           {"mass_balance_error", r.mass_balance_error},
                           {"ruled_out", w.ruled_out.empty() ? Json(nullptr) : Json(w.ruled_out)},
                           {"dangers", r.findings.dangers()},
                           {"warnings", r.findings.warnings()}});
        if (w.chance)
            methods.back().update(best(w.chance->best, {}));
    }
    Json object = head("choose");
    object.update(
        Json{{"choice", ways.best ? Json(c.methods[*ways.best].name) : Json(nullptr)},
             {"choice_command", ways.best ? Json(command) : Json(nullptr)},
             {"no_choice_because", ways.best ? Json(nullptr) : Json(ways.reason)},
             {"methods", methods},
             {"thickest_by_immersion_mm", c.thickest ? Json(1000 * *c.thickest) : Json(nullptr)},
             {"thickest_reason", c.thickest_reason},
             {"thickness_tried_mm", c.tried ? Json(1000 * c.tried->thickness) : Json(nullptr)},
             {"thiele_2_thickness_mm", 1000 * c.thiele_thickness}});
    object.update(json_parts::findings(all_findings(c)));
    return text(object);
}

} // namespace tidemark::output
