// SPDX-License-Identifier: MIT
#include "output/json.hpp"
#include "output/json_parts.hpp"
#include "output/slice_words.hpp"

namespace tidemark::output {
namespace {

using inference::Slice;
using json_parts::Json;

constexpr struct {
    const char* key;
    std::optional<double> Slice::*reading;
} readings[] = {{"ring_top_mm", &Slice::top},         {"ring_bottom_mm", &Slice::bottom},
                {"ring_left_mm", &Slice::left},       {"ring_right_mm", &Slice::right},
                {"ring_mm", &Slice::every},           {"grey_mm", &Slice::core_height},
                {"grey_width_mm", &Slice::core_width}};

Json object_of(const Slice& s) {
    Json object = {{"pink_through", s.through}};
    for (const auto& n : readings) {
        if (s.*n.reading) {
            object[n.key] = 1000 * *(s.*n.reading);
        }
    }
    return object;
}

/// Found values under names that have their units.
Json object_of(const inference::Findings& found) {
    struct Member {
        const char* name;
        double unit, zero;
    };
    constexpr Member members[] = {{"thickness_mm", 1e-3, 0},       {"cooler_C", 1, 273.15},
                                  {"brine_salt_percent", 1e-2, 0}, {"brine_nitrite_ppm", 1e-6, 0},
                                  {"core_salt_percent", 1e-2, 0},  {"core_ph", 1, 0},
                                  {"mean_salt_percent", 1e-2, 0}};
    Json object = Json::object();
    for (std::size_t k = 0; k < found.size(); ++k) {
        if (found[k]) {
            object[members[k].name] = (*found[k] - members[k].zero) / members[k].unit;
        }
    }
    return object;
}

/// "Leave it until day 7: half are cured ..."
std::string advice(const inference::Still& s) {
    const Act act = act_on(s);
    return act.heading == "LEAVE IT"  ? "leave it " + act.text
           : act.heading == "TURN IT" ? "turn it " + act.text
                                      : act.text;
}

constexpr const char* remedy_keys[] = {"reach_every_face", "brine", "needles", "longer", "nothing"};

} // namespace

Json json_parts::still(const inference::Still& s) {
    Json object{{"seen_day", json_parts::number(s.seen.time, json_parts::day)},
                {"seen", object_of(s.seen)},
                {"found", object_of(s.seen.found)},
                {"cured_day", json_parts::days(s.cured)},
                {"advice", advice(s)}};
    return object;
}

std::string json(const inference::Why& w) {
    Json causes = Json::array(), remedies = Json::array(), next = Json::array();
    for (const inference::NextLook& n : w.next) {
        next.push_back({{"look", text_of(n.look).name},
                        {"how", text_of(n.look).how},
                        {"flag", text_of(n.look).flag},
                        {"first_is_right", n.now},
                        {"first_is_right_after", n.after}});
    }
    for (const inference::RemedyShare& r : w.remedies)
        remedies.push_back({{"remedy", remedy_keys[static_cast<std::size_t>(r.remedy)]},
                            {"what", of_cure(text_of(r.remedy), w.told.question)},
                            {"probability", r.probability}});
    for (const inference::Cause& c : w.causes) {
        Json look = nullptr, by_remedy = Json::object();
        if (c.typical_look) {
            inference::Findings typical, told;
            const auto k = static_cast<std::size_t>(*c.text.look);
            typical[k] = c.typical_look;
            told[k] = c.told_look;
            look = {{"as_a_rule", object_of(typical)}, {"if_as_told", object_of(told)}};
        }
        for (std::size_t r = 0; r < inference::remedy_count; ++r)
            if (c.by_remedy[r] > 0)
                by_remedy[remedy_keys[r]] = c.by_remedy[r];
        causes.push_back({{"cause", c.text.name},
                          {"title", title_of(c, w)},
                          {"prior", c.prior},
                          {"probability", c.probability},
                          {"by_remedy", by_remedy},
                          {"log_evidence", c.log_evidence},
                          {"as_a_rule", object_of(c.typical)},
                          {"check", of_cure(c.text.check, w.told.question)},
                          {"look", look},
                          {"cured_day", json_parts::days(c.cured)}});
    }
    Json object = json_parts::head("why");
    object.update(Json{{"title", w.told.title},
                       {"day", json_parts::number(w.seen.time, json_parts::day)},
                       {"seen", object_of(w.seen)},
                       {"found", object_of(w.seen.found)},
                       {"advice", advice(w.still)},
                       {"cured_day", json_parts::days(w.still.cured)}});
    object.update(json_parts::best(w.still.best, {}));
    object.update(Json{{"remedies", remedies},
                       {"chance_as_told", w.surprise},
                       {"cured_as_told", w.told_cured},
                       {"fit_of_first", w.fit},
                       {"two_together", w.paired},
                       {"causes", causes},
                       {"looks_left", next},
                       {"draws", w.draws},
                       {"parameters", json_parts::parameters(w.parameters)}});
    object.update(json_parts::findings(w.findings));
    return json_parts::text(object);
}

} // namespace tidemark::output
