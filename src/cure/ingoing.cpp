// SPDX-License-Identifier: MIT
/// One line for each formula of the handbook.
#include "cure/ingoing.hpp"

#include "base/error.hpp"
#include "base/text.hpp"

namespace tidemark::cure {
namespace {

double share(const char* what, double value) {
    if (!(value >= 0 && value <= 1)) {
        throw base::InputError(what, base::significant(value, 4), "is not a proportion from 0 to 1",
                               "6.25 % is 0.0625: a percent in its place is 100 times too much");
    }
    return value;
}

} // namespace

double nitrite_in(double premix, double strength) {
    return premix * share("strength of the premix", strength);
}

double ingoing_on_green(double nitrite, double meat) {
    return nitrite / meat;
}

double ingoing_taken_up(double nitrite, double uptake, double pickle) {
    return nitrite * share("uptake", uptake) / pickle;
}

double ingoing_whole(double nitrite, double meat, double pickle) {
    return nitrite / (meat + pickle);
}

double nitrite_for_whole(double level, double meat, double pickle) {
    return level * (meat + pickle);
}

} // namespace tidemark::cure
