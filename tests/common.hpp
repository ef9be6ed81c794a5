// SPDX-License-Identifier: MIT
/// What tests of every folder stand on: units of time, and the records in two states.
#pragma once

#include "base/embedded.hpp"
#include "base/record.hpp"

namespace tidemark::test {

constexpr double hour = 3600, day = 24 * hour; // [s]

/// The records as they stand in models/, before the posterior moves their middles, and with cured
/// meaning first pink: fixed coefficients for tests of the physics, whatever is published next.
inline base::Records first_taken() {
    base::Records records;
    for (const base::Embedded& model : base::embedded_models())
        records.read(model.text, std::string(model.name));
    records.read("[colour.eye]\nvalue = 0\nunit = 1\nsource = tidemark\nmark = J\n", "tests");
    return records;
}

/// The same, shared, for tests that change nothing in them.
inline const base::Records& fixed_records() {
    static const base::Records records = first_taken();
    return records;
}

/// The records as the program has them; judging notes which were used.
inline base::Records& built_in() {
    static base::Records records = base::Records::built_in();
    return records;
}

} // namespace tidemark::test
