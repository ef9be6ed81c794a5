// SPDX-License-Identifier: MIT
/// The records as they stand in models/, before the posterior moves their middles, and with cured
/// meaning first pink: fixed coefficients for tests of the physics, whatever is published next.
#pragma once

#include "base/embedded.hpp"
#include "base/record.hpp"

namespace tidemark::test {

inline base::Records first_taken() {
    base::Records records;
    for (const base::Embedded& model : base::embedded_models())
        records.read(model.text, std::string(model.name));
    records.read("[colour.eye]\nvalue = 0\nunit = 1\nsource = tidemark\nmark = J\n", "tests");
    return records;
}

} // namespace tidemark::test
