// SPDX-License-Identifier: MIT
/// Records are in kJ, and hold a table by salt for brine.
#include "materials/heat.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "materials/lookup.hpp"

#include <math.h> // pchip of Boost 1.74 calls isnan without std::

#include <boost/math/interpolators/pchip.hpp>

namespace tidemark::materials {
namespace {

constexpr double kilo = 1e3;

} // namespace

double heat_of_fusion(base::Records& records) {
    return kilo * records.si("heat.fusion");
}

double water_heat(base::Records& records) {
    return kilo * records.si("heat.water");
}

double ice_heat(base::Records& records) {
    return kilo * records.si("heat.ice");
}

double brine_heat(base::Records& records, double salt) {
    Table points = table(records, "heat.brine");
    if (!(salt >= points.x.front() && salt <= points.x.back())) {
        throw base::InputError("heat of brine", base::significant(100 * salt, 4) + " %",
                               "lies outside the table, 0 % to 29 %",
                               "give the salt as a share of the whole brine");
    }
    records.use("heat.brine.s10");
    return kilo * boost::math::interpolators::pchip<std::vector<double>>(std::move(points.x),
                                                                         std::move(points.y))(salt);
}

} // namespace tidemark::materials
