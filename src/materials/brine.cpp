// SPDX-License-Identifier: MIT
/// Monotone cubic interpolation (pchip) in the printed tables, which it meets at every entry.
#include "materials/brine.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "materials/lookup.hpp"

#include <math.h> // pchip of Boost 1.74 calls isnan without std::

#include <boost/math/interpolators/pchip.hpp>

#include <string>

namespace tidemark::materials {
namespace {

std::string percent(double fraction) {
    return base::significant(100 * fraction, 5) + " %";
}

/// Throws InputError unless low <= value <= high; `show` writes a value.
void check(const std::string& what, double value, double low, double high,
           std::string (*show)(double), const std::string& remedy) {
    if (!(value >= low && value <= high)) {
        throw base::InputError(what, show(value),
                               "lies outside the table, " + show(low) + " to " + show(high),
                               remedy);
    }
}

void check_salt(const std::string& what, double salt, double low, double high) {
    check(what, salt, low, high, percent, "give the salt as a share of the whole brine");
}

/// Notes the table as used, so that its source and range show up in the answer.
double interpolate(base::Records& records, const std::string& group, Table points, double x) {
    records.use(group + '.' + records.group(group).back());
    return boost::math::interpolators::pchip<std::vector<double>>(std::move(points.x),
                                                                  std::move(points.y))(x);
}

} // namespace

double brine_density(base::Records& records, double salt, double temperature) {
    Table at_20C = table(records, "brine.density-20C");
    Table slope = table(records, "brine.density-slope");
    for (Table* points : {&at_20C, &slope}) { // the print ends at 26 %
        points->x.push_back(records.si("brine.saturation-60F"));
    }
    at_20C.y.push_back(records.si("brine.saturated.density"));
    slope.y.push_back(records.si("brine.saturated.slope"));
    check_salt("density of brine", salt, at_20C.x.front(), at_20C.x.back());
    for (const base::Validity& range : records.find("brine.density-20C.s26")->valid) {
        check("density of brine", temperature, range.low, range.high, base::show_temperature,
              "give the temperature of the brine in the cooler");
    }
    return interpolate(records, "brine.density-20C", at_20C, salt) +
           interpolate(records, "brine.density-slope", slope, salt) *
               (base::to_si(20, "C", base::Dimension::temperature) - temperature);
}

double solubility(base::Records& records, double temperature) {
    const Table points = table(records, "brine.solubility");
    check("salt in saturated brine", temperature, points.x.front(), points.x.back(),
          base::show_temperature, "give the temperature of the liquid brine");
    return interpolate(records, "brine.solubility", points, temperature);
}

double freezing_point(base::Records& records, double salt) {
    Table points = table(records, "brine.freezing");
    points.x.push_back(records.si("brine.eutectic.salt"));
    points.y.push_back(records.si("brine.eutectic.temperature"));
    check_salt("freezing point of brine", salt, points.x.front(), points.x.back());
    return interpolate(records, "brine.freezing", points, salt);
}

double salometer(base::Records& records, double salt) {
    const double full = records.si("brine.saturation-60F");
    check_salt("salometer", salt, 0, full);
    return 100 * salt / full;
}

double salt_of_salometer(base::Records& records, double degrees) {
    check(
        "salometer", degrees, 0., 100.,
        [](double value) { return base::significant(value, 4) + " degrees"; },
        "read a scale whose 100 is saturated brine");
    return degrees / 100 * records.si("brine.saturation-60F");
}

} // namespace tidemark::materials
