// SPDX-License-Identifier: MIT
/// One heat balance: what brine and water give off equals what the ice takes to melt and warm.
#include "cure/chill.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "materials/brine.hpp"
#include "materials/heat.hpp"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::cure {
namespace {

constexpr double melting = 273.15;

/// The place in [low, high] where `f` changes sign.
template <class F> double root(F f, double low, double high) {
    std::uintmax_t steps = 200;
    const auto found = boost::math::tools::toms748_solve(
        f, low, high, boost::math::tools::eps_tolerance<double>(50), steps);
    return (found.first + found.second) / 2;
}

/// Heat that a kilogram of ice takes until it is water of 0 C [J/kg].
double to_melt(const Chill& mix, base::Records& records) {
    return materials::ice_heat(records) * (melting - mix.ice_temperature) +
           materials::heat_of_fusion(records);
}

/// Heat that brine and cold water give off down to a temperature [J].
double given_off(const Chill& mix, double temperature, base::Records& records) {
    return mix.brine * materials::brine_heat(records, mix.salt) * (mix.hot - temperature) +
           mix.cold_water * materials::water_heat(records) * (mix.cold_temperature - temperature);
}

} // namespace

Chill pot(const Brine& b, const Pickle& pickle) {
    const Brine::Cooling how = b.cooling.value_or(Brine::Cooling{});
    Chill mix;
    mix.ice = b.ice.value_or(0);
    mix.cold_water = b.cold_water.value_or(0);
    mix.brine = b.water.value_or(0) + b.salt_added.value_or(0) + b.sugar.value_or(0) +
                b.premix.value_or(0) + b.erythorbate.value_or(0);
    mix.salt = pickle.salt * (mix.brine + mix.ice + mix.cold_water) / mix.brine;
    mix.hot = how.hot;
    mix.ice_temperature = how.ice_temperature;
    mix.cold_temperature = how.cold_temperature;
    return mix;
}

Chilled chill(const Chill& mix, base::Records& records) {
    if (mix.ice_temperature > melting) {
        throw base::InputError("--ice-temperature", base::show_temperature(mix.ice_temperature),
                               "is above the melting point of ice", "give 0 C or less");
    }
    const double water = materials::water_heat(records), ice = materials::ice_heat(records);
    const double liquid = mix.brine + mix.cold_water, salt = mix.brine * mix.salt;
    const double capacity =
        mix.brine * materials::brine_heat(records, mix.salt) + (mix.cold_water + mix.ice) * water;
    const double all_melted =
        melting + (given_off(mix, melting, records) - mix.ice * to_melt(mix, records)) / capacity;

    const auto strength = [&](double melted) { return salt / (liquid + melted); };
    const double strongest = records.si("brine.eutectic.salt");
    const auto freezing = [&](double melted) {
        return materials::freezing_point(records, std::min(strength(melted), strongest));
    };
    if (mix.ice == 0 || all_melted >= freezing(mix.ice)) {
        return {all_melted, mix.ice, strength(mix.ice)};
    }
    // Ice is left over: the brine is at the freezing point of what has melted into it.
    const auto surplus = [&](double melted) {
        const double t = freezing(melted);
        return given_off(mix, t, records) -
               melted * (to_melt(mix, records) + water * (t - melting)) -
               (mix.ice - melted) * ice * (t - mix.ice_temperature);
    };
    const double least = std::clamp(salt / strongest - liquid, 0., mix.ice);
    if (surplus(least) < 0) {
        throw base::InputError("--ice", base::show_mass(mix.ice),
                               "is so much and so cold that the brine freezes through",
                               "use less ice");
    }
    const double melted = root(surplus, least, mix.ice);
    return {freezing(melted), melted, strength(melted)};
}

double ice_for(const Chill& mix, double target, base::Records& records) {
    const double takes =
        to_melt(mix, records) + materials::water_heat(records) * (target - melting);
    return std::max(0., given_off(mix, target, records) / takes);
}

std::optional<double> ice_in_place_of_water(const Chill& mix, double target,
                                            base::Records& records) {
    const double salt = mix.brine * mix.salt;
    const double boiling = 373.15; // the end of the table
    const double most = materials::solubility(records, std::min(mix.hot, boiling));
    const auto missing = [&](double ice) {
        Chill hot = mix;
        hot.brine = mix.brine - ice;
        hot.salt = salt / hot.brine;
        hot.cold_water = 0;
        return ice_for(hot, target, records) - ice;
    };
    const double limit = mix.brine - salt / most;
    if (missing(limit) > 0) {
        return {};
    }
    return missing(0) > 0 ? root(missing, 0, limit) : 0;
}

} // namespace tidemark::cure
