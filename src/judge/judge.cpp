// SPDX-License-Identifier: MIT
/// The list of rules, and what becomes of a record of safety that the user has set.
#include "judge/judge.hpp"

#include "judge/rules.hpp"

#include <array>
#include <string_view>

namespace tidemark::judge {
namespace {

constexpr std::array rules{
    over_limit, mistaken_premix, without_a_limit, unknown_weights, nitrate,    too_little,
    rind,       erythorbate,     warmth,          warm_brine,      no_nitrite, poison};

/// Heads of the keys whose numbers keep people safe.
constexpr auto safety = std::to_array<std::string_view>(
    {"limit.", "limit-rule.", "minimum.", "cooler.", "toxic.", "toxin.", "growth."});

bool of_safety(const std::string& key) {
    return std::ranges::any_of(safety,
                               [&](std::string_view head) { return key.starts_with(head); });
}

Findings by_rules(const Weighed& cure, base::Records& records) {
    Findings out;
    const Law law = by_law(cure, records);
    for (Rule* rule : rules)
        rule(cure, law, records, out);
    return out;
}

} // namespace

Findings judge(const Weighed& cure, base::Records& records) {
    std::vector<std::string> set;
    for (const std::string& key : records.keys())
        if (const base::Record* r = records.find(key); r->mark == 'U' && of_safety(key))
            set.push_back(key);
    Findings out;
    if (!set.empty()) { // the record's own dangers stand, whatever was set
        base::Records own = base::Records::built_in();
        const Findings by_record = by_rules(cure, own);
        for (const Finding& f : by_record.all())
            if (f.severity == Severity::danger)
                out.danger(f.code, f.text);
        for (const std::string& key : set) {
            const base::Record &mine = *records.find(key), &record = *own.find(key);
            const auto shown = [](const base::Record& r) {
                return base::significant(r.value, 6) + (r.unit == "1" ? "" : ' ' + r.unit);
            };
            out.warn("limit-set-by-you", "limit set by you: " + key + " = " + shown(mine) +
                                             ", where the record has " + shown(record) + " [" +
                                             record.source + ']');
        }
    }
    out.add(by_rules(cure, records));
    return out;
}

} // namespace tidemark::judge
