// SPDX-License-Identifier: MIT
/// Every number is worked out for the recipe and again for each way its spoons may be off; the
/// lowest and the highest make the range.
#include "cure/brine_sheet.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "cure/brine_rules.hpp"
#include "cure/ingoing.hpp"
#include "cure/say.hpp"
#include "materials/brine.hpp"
#include "materials/measures.hpp"
#include "materials/meat.hpp"
#include "materials/safety.hpp"
#include "materials/solutes.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {
namespace {

using Kind = Figure::Kind;

/// The recipe with each spoonful light or heavy, in every combination; the recipe itself first.
std::vector<Brine> variants(const Brine& brine) {
    std::vector<Brine> list{brine};
    const auto split = [&](std::optional<double> Brine::*amount, double factor) {
        if (!(brine.*amount) || factor == 1) {
            return;
        }
        for (std::size_t k = list.size(); k-- > 0;) {
            for (const double f : {1 / factor, factor}) {
                list.push_back(list[k]);
                list.back().*amount = *(brine.*amount) * f;
            }
        }
    };
    split(&Brine::ice, brine.spread.ice);
    split(&Brine::salt_added, brine.spread.salt);
    split(&Brine::sugar, brine.spread.sugar);
    split(&Brine::premix, brine.spread.premix);
    return list;
}

Balance balance_of(const BrineQuestion& q, base::Records& records) {
    const auto parts = materials::composition(records, materials::default_cut(records, q.muscle));
    return {q.weight * q.pieces,
            materials::omega(records, parts) / materials::density(records, parts),
            materials::partition(records, "salt")};
}

std::vector<Figure> figures_of(const Pickle& p, const BrineQuestion& q, const Balance& balance,
                               base::Records& records) {
    std::vector<Figure> list;
    const auto add = [&](const char* key, const char* name, Kind kind, double value) {
        if (std::isfinite(value)) {
            list.push_back({key, name, kind, value, value, value});
        }
    };
    const auto share = [&](const char* key, const char* name, Kind kind, double value) {
        if (value > 0) {
            add(key, name, kind, value);
        }
    };
    add("mass", "weight of the brine", Kind::mass, p.mass);
    add("volume", "volume", Kind::volume, p.mass / p.density);
    add("salt", "salt, by weight", Kind::percent, p.salt);
    add("salometer", "salometer, 100 = saturated at 60 F", Kind::degrees,
        materials::salometer(records, p.salt));
    add("density", "density in the cooler", Kind::density, p.density);
    add("freezing_point", "freezing point", Kind::temperature,
        materials::freezing_point(records, std::min(p.salt, records.si("brine.eutectic.salt"))));
    add("saturation", "of the salt that would dissolve", Kind::percent,
        p.salt / (p.salt + p.water) / materials::solubility(records, q.temperature));
    share("sugar", "sugar", Kind::percent, p.sugar);
    add("nitrite", "sodium nitrite in the brine", Kind::ppm, p.nitrite);
    share("nitrate", "sodium nitrate in the brine", Kind::ppm, p.nitrate);
    share("erythorbate", "erythorbate in the brine", Kind::ppm, p.erythorbate);
    if (balance.meat > 0) {
        add("salt_over_all", "salt over meat and brine together", Kind::percent,
            std::isfinite(p.mass) ? ingoing_whole(p.salt * p.mass, balance.meat, p.mass) : p.salt);
        add("salt_at_balance", "salt of the meat at full balance", Kind::percent,
            balance_salt(p, balance));
    }
    return list;
}

double share_of(const Pickle& p, const std::string& law, const std::string& substance) {
    return substance == "nitrite"   ? judge::counted_nitrite(p.nitrite, p.nitrate, law)
           : substance == "nitrate" ? p.nitrate
                                    : p.erythorbate;
}

std::vector<Dose> doses_of(const Pickle& p, const BrineQuestion& q, double meat,
                           base::Records& records) {
    std::vector<Dose> list;
    const auto add = [&](const char* method, const std::string& substance, double value,
                         bool judged) {
        const std::string kind = method == std::string("pick-up") ? "immersion" : method;
        judge::Weighed by;
        by.law = q.law;
        by.product = q.product;
        by.rind = q.rind;
        const auto limit = judge::limit_for(by, kind, substance, records);
        list.push_back({method, substance, value, value, value, limit, judged});
    };
    for (const char* substance : {"nitrite", "nitrate", "erythorbate"}) {
        const double share = share_of(p, q.law, substance);
        if (share == 0) {
            continue;
        }
        const bool weighed = q.pick_up || q.pump;
        if (q.pick_up) {
            add("pick-up", substance, ingoing_taken_up(share, *q.pick_up, 1), true);
        }
        if (q.pump) {
            add("pumped", substance, ingoing_taken_up(share, *q.pump, 1), true);
        }
        if (!std::isfinite(p.mass)) { // very much brine
            add("immersion", substance, share, !weighed);
            continue;
        }
        if (!(meat > 0)) {
            continue;
        }
        add("immersion", substance, ingoing_whole(share * p.mass, meat, p.mass), !weighed);
        if (substance == std::string("nitrite")) {
            for (const char* method : {"dry", "ground"}) {
                add(method, substance, ingoing_on_green(share * p.mass, meat), false);
            }
        }
    }
    return list;
}

Cooled cool(const BrineSheet& sheet, base::Records& records) {
    const auto& how = *sheet.question.cooling;
    const Brine& brine = sheet.recipe;
    if (!brine.water) {
        throw base::InputError("--hot", "", "needs a recipe to cool", "give --water and --salt");
    }
    double batch = 0; // the whole pot, of which the meat may get a part
    for (const Ingredient& ingredient : sheet.ingredients) {
        batch += ingredient.mass;
    }
    const double salt = sheet.pickle.salt * batch;
    Chill mix;
    mix.ice = brine.ice.value_or(0);
    mix.cold_water = brine.cold_water.value_or(0);
    mix.brine = batch - mix.ice - mix.cold_water;
    mix.salt = salt / mix.brine;
    mix.hot = how.hot;
    mix.ice_temperature = how.ice_temperature;
    mix.cold_temperature = how.cold_temperature;
    constexpr double boiling = 373.15; // the end of the table
    if (const double most = materials::solubility(records, std::min(how.hot, boiling));
        mix.salt > most) {
        throw base::InputError("--water", base::show_mass(*brine.water),
                               "is too little to dissolve the salt, even hot: it makes " +
                                   percent(mix.salt) + " where " + percent(most) + " is the most",
                               "take more of the water hot, and less as ice or cold water");
    }
    Cooled c;
    c.salt_hot = mix.salt;
    c.mixed = chill(mix, records);
    c.limit = records.si("cooler.limit");
    c.ice_for_limit = ice_for(mix, c.limit, records);
    c.salt_then = salt / (mix.brine + mix.cold_water + c.ice_for_limit);
    Chill whole = mix;
    whole.brine = batch;
    whole.salt = sheet.pickle.salt;
    c.ice_in_place = ice_in_place_of_water(whole, c.limit, records);
    return c;
}

std::vector<Ingredient> ingredients_of(const Brine& b, const BrineQuestion& q,
                                       base::Records& records) {
    std::vector<Ingredient> list;
    const auto add = [&](const char* name, const std::optional<double>& mass, double factor = 1,
                         const std::string& item = "") {
        if (mass) {
            list.push_back({name, *mass, factor, {}});
            if (q.wish && !item.empty()) {
                list.back().spoon = materials::spoon_volume(records, item, *mass);
            }
        }
    };
    add("water", b.water);
    add("ice", b.ice, b.spread.ice);
    add("cold water", b.cold_water);
    add("salt", b.salt_added, b.spread.salt, q.wish ? q.wish->salt_item : "");
    add("sugar", b.sugar, b.spread.sugar, q.wish ? q.wish->sugar_item : "");
    add("premix", b.premix, b.spread.premix);
    add("erythorbate", b.erythorbate);
    return list;
}

/// The recipe for the targets, exact; `work_out` rounds it.
Brine wished(const BrineQuestion& q, const Balance& balance, base::Records& records) {
    if (q.brine.water || q.brine.salt_added || q.brine.premix || q.brine.salt) {
        throw base::InputError("--target-salt", percent(q.wish->salt),
                               "asks for a recipe, and one is given as well", "keep one of them");
    }
    if (!(balance.meat > 0)) {
        throw base::InputError("--weight", "", "is missing",
                               "targets need the weight of the meat: --weight \"2.5 kg\"");
    }
    const auto parts = materials::composition(records, materials::default_cut(records, q.muscle));
    return make_brine({q.wish->salt, q.wish->nitrite, balance, materials::density(records, parts),
                       q.wish->container, q.brine},
                      q.temperature, records);
}

} // namespace

const Figure* BrineSheet::figure(const std::string& key) const {
    const auto found = std::ranges::find(figures, key, &Figure::key);
    return found == figures.end() ? nullptr : &*found;
}

const Dose* BrineSheet::judged(const std::string& substance) const {
    const auto found = std::ranges::find_if(
        doses, [&](const Dose& d) { return d.judged && d.substance == substance; });
    return found == doses.end() ? nullptr : &*found;
}

BrineSheet work_out(const BrineQuestion& question, base::Records records) {
    if (question.pick_up && question.pump) {
        throw base::InputError("--pump", percent(*question.pump), "does not go with --pick-up",
                               "keep the one that is weighed");
    }
    BrineSheet sheet;
    sheet.question = question;
    sheet.recipe = question.brine;
    const Balance balance = balance_of(question, records);
    if (question.wish) {
        sheet.exact = wished(question, balance, records);
        sheet.recipe = rounded(*sheet.exact, question.wish->scale);
    }
    sheet.ingredients = ingredients_of(sheet.recipe, question, records);
    for (const Brine& variant : variants(sheet.recipe)) {
        const bool first = sheet.figures.empty();
        Pickle p;
        try {
            p = make_pickle(variant, question.temperature, records);
        } catch (const base::InputError& error) {
            if (first) {
                throw;
            }
            sheet.findings.warn("brine", "spoons that weigh heavy make more salt than dissolves");
            continue;
        }
        const auto figures = figures_of(p, question, balance, records);
        const auto doses = doses_of(p, question, balance.meat, records);
        if (first) {
            sheet.pickle = p;
            sheet.figures = figures;
            sheet.doses = doses;
        }
        const auto widen = [](auto& known, const auto& other) {
            for (std::size_t k = 0; k < known.size(); ++k) {
                known[k].low = std::min(known[k].low, other[k].value);
                known[k].high = std::max(known[k].high, other[k].value);
            }
        };
        widen(sheet.figures, figures);
        widen(sheet.doses, doses);
    }
    if (question.cooling) {
        sheet.cooled = cool(sheet, records);
    }
    sheet.least = materials::least_nitrite(records, question.law);
    sheet.fatal = materials::fatal_dose(records);
    sheet.harmful = materials::harmful_dose(records);
    judge_brine(sheet, records);
    sheet.parameters = records.used();
    return sheet;
}

} // namespace tidemark::cure
