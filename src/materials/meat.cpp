// SPDX-License-Identifier: MIT
/// Volumes of the parts are taken to add up: density = sum m / sum (m / rho).
#include "materials/meat.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "materials/lookup.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>
#include <set>

namespace tidemark::materials {
namespace {

/// Volumes of the parts of one kilogram as analysed [m3/kg].
struct Volumes {
    double water, protein, fat, ash;
    double all() const { return water + protein + fat + ash; }
};

Volumes volumes(base::Records& records, const Composition& parts) {
    return {parts.water / records.si("component.water.density"),
            parts.protein / records.si("component.protein.density"),
            parts.fat / records.si("component.fat.density"),
            parts.ash / records.si("component.ash.density")};
}

/// The words of a name, in any order and without what joins them: leg of lamb is lamb-leg.
std::set<std::string> words_of(const std::string& name) {
    std::set<std::string> words;
    const std::string small = boost::to_lower_copy(name);
    boost::split(words, small, boost::is_any_of(" -_'"), boost::token_compress_on);
    for (const char* word : {"", "of", "the", "s"}) {
        words.erase(word);
    }
    return words;
}

bool holds(const std::set<std::string>& all, const std::set<std::string>& some) {
    return std::ranges::includes(all, some);
}

std::string hyphened(const std::string& name) {
    return boost::replace_all_copy(boost::to_lower_copy(name), " ", "-");
}

double of_muscle(base::Records& records, const std::string& muscle, const std::string& what) {
    return records.si("muscle." + known("muscle", muscle, muscle_names(records)) + '.' + what);
}

} // namespace

std::vector<std::string> muscle_names(const base::Records& records) {
    return records.group("muscle");
}

std::vector<std::string> cut_names(const base::Records& records) {
    return records.group("cut");
}

std::vector<MuscleName> muscle_synonyms(const base::Records& records) {
    std::vector<MuscleName> list;
    for (const std::string& muscle : muscle_names(records)) {
        list.push_back({muscle, muscle});
        std::vector<std::string> names;
        const std::string text = records.heading("muscle." + muscle, "names");
        boost::split(names, text, boost::is_any_of(","));
        for (const std::string& name : names) {
            if (!base::trim(name).empty()) {
                list.push_back({muscle, base::trim(name)});
            }
        }
    }
    return list;
}

std::string muscle_called(const base::Records& records, const std::string& name,
                          const std::string& where) {
    const std::set<std::string> given = words_of(name);
    std::vector<std::string> whole, part;
    std::string last;
    for (const MuscleName& known : muscle_synonyms(records)) {
        // What the name leaves unsaid may be said besides: picnic, pork picnic, picnic shoulder.
        const std::set<std::string> needed = words_of(known.name);
        std::set<std::string> most = words_of(known.muscle);
        most.insert(needed.begin(), needed.end());
        if (holds(given, needed) && holds(most, given)) {
            return known.muscle;
        }
        const std::string hyphen = hyphened(known.name);
        whole.push_back(hyphen);
        whole.push_back(known.muscle.substr(0, known.muscle.find('-') + 1) + hyphen);
        if (!given.empty() && holds(needed, given) && last != known.muscle) {
            part.push_back(hyphen); // one name of a muscle is enough
            last = known.muscle;
        }
    }
    const std::string near = base::nearest(hyphened(name), whole);
    throw base::InputError(where, name, "is not a muscle or cut in the tables",
                           !near.empty()   ? "did you mean " + near + "?"
                           : !part.empty() ? "say which: " + boost::join(part, ", ")
                                           : "tidemark numbers muscle lists them");
}

std::string lender(const base::Records& records, const std::string& muscle) {
    return records.heading("muscle." + muscle, "borrows");
}

std::string lender_note(const base::Records& records, const std::string& muscle) {
    const std::string from = lender(records, muscle);
    const base::Record* own = records.find("muscle." + muscle + ".diffusivity");
    if (from.empty() || own == nullptr || own->mark == 'U') {
        return "";
    }
    const auto plain = [](const std::string& name) {
        return boost::replace_all_copy(name, "-", " ");
    };
    return plain(muscle) + " was not measured: " + plain(from) + " stands in, spread widened";
}

std::string species_of(const base::Records& records, const std::string& muscle) {
    const std::string from = lender(records, muscle);
    const std::string& of = from.empty() ? muscle : from;
    return known("animal", of.substr(0, of.find('-')), records.group("colour.stable"));
}

std::string default_cut(const base::Records& records, const std::string& muscle) {
    return records.heading("muscle." + known("muscle", muscle, muscle_names(records)), "cut");
}

double myoglobin(base::Records& records, const std::string& muscle) {
    return of_muscle(records, muscle, "myoglobin");
}

double ph(base::Records& records, const std::string& muscle) {
    return of_muscle(records, muscle, "ph");
}

Composition composition(base::Records& records, const std::string& cut) {
    const std::string key = "cut." + known("cut", cut, cut_names(records));
    return {records.si(key + ".water"), records.si(key + ".protein"), records.si(key + ".fat"),
            records.si(key + ".ash")};
}

double density(base::Records& records, const Composition& parts) {
    return (parts.water + parts.protein + parts.fat + parts.ash) / volumes(records, parts).all();
}

double water_volume(base::Records& records, const Composition& parts) {
    const Volumes v = volumes(records, parts);
    return v.water / v.all();
}

double omega(base::Records& records, const Composition& parts) {
    return water_volume(records, parts) * records.si("component.water.density");
}

double adipose_omega(base::Records& records) {
    return records.si("adipose.water-volume") * records.si("component.water.density");
}

} // namespace tidemark::materials
