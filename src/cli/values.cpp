// SPDX-License-Identifier: MIT
/// One table of ranges for all flags that hold a number.
#include "cli/values.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "materials/meat.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::cli {
namespace {

using base::Dimension;
using base::InputError;
using enum base::Dimension;

/// What a flag may hold. Ranges are wide: they catch slips of the hand and of the unit, and leave
/// judgement to the warnings of the model. Common practice, no source. Flags that set a number of
/// the model have their range in models/allowed.ini.
struct Range {
    const char* flag;
    Dimension dimension;
    const char* low;
    const char* high;
    const char* remedy;
};
constexpr Range ranges[] = {
    {"thickness", length, "2 mm", "600 mm", "measure the piece where it is thickest"},
    {"width", length, "2 mm", "2 m", slip},
    {"length", length, "2 mm", "3 m", slip},
    {"weight", mass, "5 g", "200 kg", "give the weight of one piece"},
    {"pieces", number, "1", "10000", "give a whole number of pieces"},
    {"piece", number, "1", "10000", "give the number that tidemark bucket gives the piece"},
    {"share", fraction, "0.01 %", "100 %", "give the piece's weight over that of all in the brine"},
    {"fat-cap", length, "0 mm", "200 mm", slip},
    {"bones", number, "0", "40", "give a whole number of bones in the section"},
    {"bone-diameter", length, "1 mm", "200 mm", slip},
    {"bone-depth", length, "1 mm", "300 mm", slip},
    {"marbling", fraction, "0 %", "60 %", "above that the piece is fat: give its cut instead"},
    {"fibre-angle", angle, "-180 deg", "180 deg", slip},
    {"brine-salt", fraction, "0 %", "26 %", "no cold brine holds more: check the number"},
    {"brine-nitrite", fraction, "0 ppm", "5000 ppm", "more is dangerous: check number and unit"},
    {"premix-nitrite", fraction, "0.1 %", "10 %",
     "read the label of the premix; do not weigh out pure nitrite at home"},
    {"premix-nitrate", fraction, "0 %", "10 %", "read the label of the premix"},
    {"erythorbate", mass, "0.1 g", "10 kg", "weigh it; it is dosed like nitrite"},
    {"hot", temperature, "20 C", "105 C", "give the brine as it is when the ice goes in"},
    {"ice-temperature", temperature, "-40 C", "0 C", "melting ice is 0 C, a freezer -18 C"},
    {"cold-temperature", temperature, "0 C", "35 C", "give the cold water as it runs"},
    {"target-salt", fraction, "0.3 %", "10 %", "1.8 to 2.5 % tastes cured; 0.02 is 2 %"},
    {"target-nitrite", fraction, "10 ppm", "700 ppm", "give ppm of meat and brine, like 120 ppm"},
    {"container", volume, "0.1 L", "10000 L", slip},
    {"scale", mass, "0.01 g", "100 g", "give the finest step the scales show"},
    {"pick-up", fraction, "1 %", "60 %", "give the gain over the raw weight: 10 %, not 0.1 %"},
    {"pump", fraction, "1 %", "60 %", "give the gain over the raw weight: 10 %, not 0.1 %"},
    {"pump-salt", fraction, "0 %", "26 %", "no cold brine holds more: check the number"},
    {"pump-nitrite", fraction, "0 ppm", "20000 ppm", "more is dangerous: check number and unit"},
    {"needle-spacing", length, "5 mm", "200 mm", slip},
    {"row-spacing", length, "5 mm", "200 mm", slip},
    {"deposit", length, "1 mm", "100 mm", slip},
    {"unevenness", number, "1", "3", "1 is even; 1.3 is two needles in three within 30 %"},
    {"needle-margin", length, "0 mm", "200 mm", slip},
    {"even", fraction, "1 %", "200 %", "give (largest - smallest) / mean of the salt"},
    {"still", speed, "1e-9 m/s", "1e-2 m/s", "leave it out for a brine that is stirred"},
    {"cooler", temperature, "0 C", "15 C", "meat must be kept cold: give the cooler's temperature"},
    {"day", duration, "1 h", "1000 d", slip},
    {"ring", length, "0 mm", "300 mm", slip},
    {"ring-top", length, "0 mm", "300 mm", slip},
    {"ring-bottom", length, "0 mm", "300 mm", slip},
    {"ring-left", length, "0 mm", "300 mm", slip},
    {"ring-right", length, "0 mm", "300 mm", slip},
    {"grey", length, "1 mm", "600 mm", "a slice without grey is --pink-through"},
    {"grey-width", length, "1 mm", "2 m", "a slice without grey is --pink-through"},
    {"found-thickness", length, "2 mm", "600 mm", slip},
    {"found-cooler", temperature, "-4 C", "15 C", "read a thermometer that has stood in water"},
    {"found-brine-salt", fraction, "0.1 %", "26 %", "no cold brine holds more: check the number"},
    {"found-salometer", number, "0.5", "100", "100 degrees are saturated brine"},
    {"found-brine-nitrite", fraction, "1 ppm", "5000 ppm",
     "where a strip shows none, give the least that it shows"},
    {"found-core-salt", fraction, "0 %", "10 %", slip},
    {"found-mean-salt", fraction, "0 %", "15 %", slip},
    {"found-ph", number, "4.5", "7.5", "meat lies between 5.3 and 6.5"},
    {"at", duration, "1 min", "1000 d", slip},
    {"horizon", duration, "1 h", "1000 d", slip},
    {"out", duration, "1 h", "1000 d", slip},
    {"draws", number, "0", "1000000", "4096 is enough; 0 leaves the range out"},
    {"confidence", fraction, "50 %", "99 %", "90 % is nine pieces in ten"},
    {"taste-low", fraction, "0.3 %", "10 %", "1.8 % is usual"},
    {"taste-high", fraction, "0.3 %", "10 %", "2.5 % is usual"},
    {"thickness-sd", length, "0 mm", "50 mm", "give what two measurements differ by"},
    {"cooler-sd", temperature_change, "0 C", "5 C", "give what two thermometers differ by"},
    {"cells", number, "4", "400", "give a whole number; 24 is enough for most pieces"},
};

} // namespace

void check(const Given& given, double value, Dimension dimension, const char* low, const char* high,
           const char* remedy) {
    if (value < base::parse(low, dimension, "") || value > base::parse(high, dimension, "")) {
        throw InputError(given.where, given.text,
                         std::string("must be from ") + low + " to " + high, remedy);
    }
}

std::optional<double> Values::get(const char* flag) const {
    const Given* given = options_.find(flag);
    if (!given) {
        return {};
    }
    const Range& range = *std::ranges::find(ranges, std::string(flag), &Range::flag);
    const double value = base::parse(given->text, range.dimension, given->where);
    check(*given, value, range.dimension, range.low, range.high, range.remedy);
    return value;
}

std::chrono::local_seconds moment_of(const Given& given) {
    return base::parse_moment(given.text, given.where, base::working_hour);
}

void Values::check_all() const {
    for (const Range& range : ranges) {
        get(range.flag);
    }
}

int Values::count(const char* flag, int otherwise) const {
    const double value = get(flag, otherwise);
    if (value != std::round(value)) {
        const Given& given = *options_.find(flag);
        throw InputError(given.where, given.text, "is not a whole number", "round it");
    }
    return static_cast<int>(value);
}

std::string Values::name(const char* flag, const std::vector<std::string>& known,
                         const std::string& otherwise) const {
    const Given* given = options_.find(flag);
    return given ? one_of(*given, boost::replace_all_copy(given->text, " ", "-"), known)
                 : otherwise;
}

std::string Values::one_of(const Given& given, const std::string& word,
                           const std::vector<std::string>& known) {
    if (std::ranges::count(known, word) > 0) {
        return word;
    }
    const std::string near = base::nearest(word, known);
    throw InputError(given.where, given.text, "is not a known name",
                     near.empty() ? "use one of " + boost::join(known, ", ")
                                  : "did you mean " + near + "?");
}

std::string Values::muscle(const base::Records& records, const std::string& otherwise) const {
    const Given* given = options_.find("muscle");
    return given ? materials::muscle_called(records, given->text, given->where) : otherwise;
}

std::optional<base::Quantity> Values::amount(const char* flag) const {
    const Given* given = options_.find(flag);
    if (!given) {
        return {};
    }
    const auto quantity = base::parse_either(given->text, mass, volume, given->where);
    if (quantity.dimension == mass) {
        check(*given, quantity.si, mass, "0.1 g", "10000 kg", slip);
    } else {
        check(*given, quantity.si, volume, "0.1 mL", "10000 L", slip);
    }
    return quantity;
}

} // namespace tidemark::cli
