// SPDX-License-Identifier: MIT
/// Units for the tests of materials, so that expected numbers stand as they were printed.
#pragma once

#include "base/quantity.hpp"

namespace tidemark::materials::test {

inline double celsius(double value) {
    return base::to_si(value, "C", base::Dimension::temperature);
}
inline double percent(double value) {
    return value / 100;
}
inline double ppm(double value) {
    return value * 1e-6;
}

} // namespace tidemark::materials::test
