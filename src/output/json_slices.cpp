// SPDX-License-Identifier: MIT
#include "output/json.hpp"
#include "output/json_parts.hpp"
#include "output/slice_words.hpp"

namespace tidemark::output {
namespace {

using namespace inference;
using namespace json_parts;

Json object_of(const Slice& s) {
    Json object = {{"pink_through", s.through}};
    for (const auto& [key, reading] : readings)
        if (s.*reading)
            object[key] = 1000 * *(s.*reading);
    return object;
}

/// Found values under names that have their units.
Json object_of(const Findings& found) {
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
std::string advice(const Still& s) {
    const Act act = act_on(s);
    return act.heading == "LEAVE IT"  ? "leave it " + act.text
           : act.heading == "TURN IT" ? "turn it " + act.text
                                      : act.text;
}

Json lesson_json(const Learnt& l, Lesson which) {
    const auto k = static_cast<std::size_t>(which);
    const std::string& reason = l.reason[k];
    return {{"told", l.told[k]},
            {"reason", reason.empty() ? Json(nullptr) : Json(reason)},
            {"low", l.quantile(which, 0.05)},
            {"half", l.quantile(which, 0.5)},
            {"high", l.quantile(which, 0.95)},
            {"log_sd", l.log_sd(which)},
            {"log_sd_before", l.log_sd_before(which)}};
}

constexpr const char* remedy_keys[] = {"reach_every_face", "brine", "needles", "longer", "nothing"};

} // namespace

Json json_parts::still(const Still& s) {
    Json object{{"seen_day", number(s.seen.time, day)},
                {"seen", object_of(s.seen)},
                {"found", object_of(s.seen.found)},
                {"cured_day", days(s.cured)},
                {"advice", advice(s)}};
    return object;
}

std::string json(const Why& w) {
    Json causes = Json::array(), remedies = Json::array(), next = Json::array();
    for (const NextLook& n : w.next) {
        next.push_back({{"look", text_of(n.look).name},
                        {"how", text_of(n.look).how},
                        {"flag", text_of(n.look).flag},
                        {"first_is_right", n.now},
                        {"first_is_right_after", n.after}});
    }
    for (const RemedyShare& r : w.remedies)
        remedies.push_back({{"remedy", remedy_keys[static_cast<std::size_t>(r.remedy)]},
                            {"what", of_cure(text_of(r.remedy), w.told.question)},
                            {"probability", r.probability}});
    for (const Cause& c : w.causes) {
        Json look = nullptr, by_remedy = Json::object();
        if (c.typical_look) {
            Findings typical, told;
            const auto k = static_cast<std::size_t>(*c.text.look);
            typical[k] = c.typical_look;
            told[k] = c.told_look;
            look = {{"as_a_rule", object_of(typical)}, {"if_as_told", object_of(told)}};
        }
        for (std::size_t r = 0; r < remedy_count; ++r)
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
                          {"cured_day", days(c.cured)}});
    }
    Json object = head("why");
    object.update(Json{{"title", w.told.title},
                       {"day", number(w.seen.time, day)},
                       {"seen", object_of(w.seen)},
                       {"found", object_of(w.seen.found)},
                       {"advice", advice(w.still)},
                       {"cured_day", days(w.still.cured)}});
    object.update(best(w.still.best, {}));
    object.update(Json{{"remedies", remedies},
                       {"chance_as_told", w.surprise},
                       {"cured_as_told", w.told_cured},
                       {"fit_of_first", w.fit},
                       {"two_together", w.paired},
                       {"causes", causes},
                       {"looks_left", next},
                       {"draws", w.draws},
                       {"parameters", parameters(w.parameters)}});
    object.update(findings(w.findings));
    return text(object);
}

std::string json(const LearnAnswer& a) {
    Json batches = Json::array();
    for (std::size_t i = 0; i < a.batches.size(); ++i) {
        const Batch& b = a.batches[i];
        const auto found = [&](Look look) {
            return number(b.slice.found[static_cast<std::size_t>(look)], json_parts::percent);
        };
        Json batch{
            {"line", b.line}, {"date", b.date}, {"batch", b.name}, {"day", b.slice.time / day}};
        for (const auto& [key, reading] : readings)
            batch[key] = number(b.slice.*reading, mm);
        batch.update(Json{{"pink_through", b.slice.through},
                          {"found_core_salt_percent", found(Look::core_salt)},
                          {"found_mean_salt_percent", found(Look::mean_salt)},
                          {"predicted_half_day", number(b.half, day)},
                          {"predicted_late_day", number(b.late, day)},
                          {"surprise", a.learnt.surprises[i]},
                          {"command", b.command}});
        batches.push_back(batch);
    }
    Json object = head("learn");
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
                       {"cured_day_by_records", days(a.by_records)},
                       {"cured_day_by_shop", days(a.by_shop)},
                       {"cured_day_of_pieces", days(a.of_pieces)},
                       {"batches", batches}});
    object.update(findings(a.findings));
    return text(object);
}

} // namespace tidemark::output
