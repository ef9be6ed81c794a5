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

} // namespace

std::optional<std::string> stage_words(const Stage& s) {
    if (s.log || s.nitrate > 0 || (s.brine && s.brine->nitrate.value_or(0) > 0))
        return {};
    const char* const kinds[] = {"brine", "rub", "bag", "soak", "rest"};
    std::vector<std::string> phrases{(s.fresh ? "fresh " : "") +
                                     std::string(kinds[static_cast<int>(s.kind)])};
    const auto add = [&](const std::string& text) { phrases.push_back(text); };
    if (s.dry()) {
        add("salt " + number(s.salt, 1e-3, "g/kg"));
        if (s.nitrite > 0)
            add("nitrite " + number(s.nitrite, 1e-6, "ppm"));
        if (s.purge)
            add("purge " + number(*s.purge, 1e-2, "%"));
    }
    if (s.brine) {
        add("salt " + number(s.brine->salt.value_or(0), 1e-2, "%"));
        if (s.brine->nitrite)
            add("nitrite " + number(*s.brine->nitrite, 1e-6, "ppm"));
        if (s.brine->mass)
            add(number(*s.brine->mass, 1, "kg"));
        if (s.brine->volume)
            add(number(*s.brine->volume, 1e-3, "L"));
    }
    if (s.water > 0)
        add(number(s.water, 1, "kg"));
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
        add("at " + number(*s.temperature - 273.15, 1, "C"));
    if (!s.sealed.empty())
        add("sealed " + boost::join(s.sealed, " "));
    return boost::join(phrases, ", ");
}

} // namespace tidemark::cure
