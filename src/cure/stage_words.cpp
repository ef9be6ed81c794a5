// SPDX-License-Identifier: MIT
#include "cure/stage_words.hpp"

#include "base/text.hpp"

#include <boost/algorithm/string/join.hpp>

namespace tidemark::cure {
namespace {

std::string number(double value, double unit, const char* word) {
    return base::significant(value / unit, 6) + ' ' + word;
}

std::string words(const Until& u) {
    using enum Until::What;
    const std::string value = number(u.value, 1e-2, "%");
    switch (u.what) {
    case mean_salt:
        return "until mean " + value;
    case surface_salt:
        return "until surface " + value;
    case even:
        return "until even " + value;
    default:
        return (u.what == cured ? "until cured" : "until lasting") +
               (u.value > 0 ? " and mean " + value : std::string());
    }
}

/// In the scale that it is round in: 38 F is 3.33333 C.
std::string degrees(double kelvin) {
    const std::string celsius = number(kelvin - 273.15, 1, "C"),
                      fahrenheit = number(1.8 * (kelvin - 273.15) + 32, 1, "F");
    return fahrenheit.size() < celsius.size() ? fahrenheit : celsius;
}

} // namespace

double salt_beside(const Stage& s) {
    const double beside = s.premix > 0 ? s.salt - (s.premix - s.nitrite - s.nitrate) : s.salt;
    return beside < 1e-9 ? 0 : beside; // a premix alone leaves rounding
}

std::optional<Load> weighed_load(const Stage& s, const Brine& premix) {
    if (s.premix > 0 || !(s.nitrite > 0))
        return Load{salt_beside(s), s.premix};
    const double mass = s.nitrite / premix.premix_strength,
                 salt = mass * (1 - premix.premix_strength - premix.premix_nitrate);
    if (salt > s.salt)
        return {};
    return Load{s.salt - salt, mass};
}

std::optional<std::string> stage_words(const Stage& s) {
    if (s.log || (s.nitrate > 0 && s.premix == 0) || (s.brine && s.brine->nitrate.value_or(0) > 0))
        return {};
    const char* const kinds[] = {"brine", "rub", "bag", "soak", "rest"};
    std::vector<std::string> phrases{(s.fresh ? "fresh " : "") +
                                     std::string(kinds[static_cast<int>(s.kind)])};
    const auto add = [&](const std::string& text) { phrases.push_back(text); };
    if (s.dry()) {
        if (const double salt = salt_beside(s); salt > 0)
            add("salt " + number(salt, 1e-3, "g/kg"));
        if (s.premix > 0)
            add("premix " + number(s.premix, 1e-3, "g/kg"));
        else if (s.nitrite > 0)
            add("nitrite " + number(s.nitrite, 1e-6, "ppm"));
        if (s.purge)
            add("purge " + number(*s.purge, 1e-2, "%"));
    }
    if (s.brine) {
        add("salt " + number(s.brine->salt.value_or(0), 1e-2, "%"));
        if (s.brine->nitrite)
            add("nitrite " + number(*s.brine->nitrite, 1e-6, "ppm"));
        if (!s.amount.empty())
            add(s.amount);
        else if (s.brine->mass)
            add(number(*s.brine->mass, 1, "kg"));
        else if (s.brine->volume)
            add(number(*s.brine->volume, 1e-3, "L"));
    }
    if (s.water > 0)
        add(s.amount.empty() ? number(s.water, 1, "kg") : s.amount);
    if (s.changes > 0)
        add("changes " + std::to_string(s.changes));
    if (s.duration)
        add(*s.duration < 2 * 86400 ? number(*s.duration, 3600, "h")
                                    : number(*s.duration, 86400, "d"));
    if (s.until)
        add(words(*s.until));
    if (s.until && s.most != Stage().most)
        add("most " + number(s.most, 86400, "d"));
    if (s.temperature)
        add("at " + degrees(*s.temperature));
    if (!s.sealed.empty())
        add("sealed " + boost::join(s.sealed, " "));
    return boost::join(phrases, ", ");
}

} // namespace tidemark::cure
