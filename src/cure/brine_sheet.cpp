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
    return {q.meat(), materials::omega(records, parts) / materials::density(records, parts),
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

/// What a dry cure brings: strengths of the meat [kg per kg raw] in place of those of a brine.
Pickle on_meat(const Brine& b, double meat) {
    Pickle p;
    const double premix = b.premix.value_or(0) / meat;
    p.nitrite = nitrite_in(premix, b.premix_strength);
    p.nitrate = nitrite_in(premix, b.premix_nitrate);
    p.salt = b.salt_added.value_or(0) / meat + premix - p.nitrite - p.nitrate;
    p.sugar = b.sugar.value_or(0) / meat;
    p.erythorbate = b.erythorbate.value_or(0) / meat;
    p.mass = meat;
    return p;
}

std::vector<Figure> dry_figures(const Pickle& p, const BrineQuestion& q, const Balance& balance,
                                base::Records& records) {
    // Turns dry_salt() round, which is linear in mean / (1 - mean).
    const double none = dry_salt(0, q.way, balance, q.temperature, records),
                 per_half = dry_salt(0.5, q.way, balance, q.temperature, records) - none;
    const double ratio = std::max(0., p.salt - none) / per_half;
    std::vector<Figure> list;
    const auto add = [&](const char* key, const char* name, Kind kind, double value) {
        list.push_back({key, name, kind, value, value, value});
    };
    add("salt_on_meat", "salt in all, per kg of raw meat", Kind::per_kg, p.salt);
    add("salt_at_balance", "salt of the meat with all of it in", Kind::percent,
        ratio / (1 + ratio));
    return list;
}

double share_of(const Pickle& p, const BrineQuestion& q, const std::string& substance) {
    return substance == "nitrite"   ? judge::counted_nitrite(p.nitrite, p.nitrate, q.law, q.product)
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
        const double share = share_of(p, q, substance);
        if (share == 0) {
            continue;
        }
        if (dry(q.way)) {
            add("dry", substance, share, true);
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
    const Brine& brine = sheet.recipe;
    const auto& how = *brine.cooling;
    if (!brine.water) {
        throw base::InputError("--hot", "", "needs a recipe to cool", "give --water and --salt");
    }
    const Chill mix = pot(brine, sheet.pickle); // of which the meat may get a part
    const double batch = mix.brine + mix.ice + mix.cold_water, salt = sheet.pickle.salt * batch;
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

Targets targets_of(const BrineQuestion& q, const Balance& balance, base::Records& records) {
    if (q.brine.water || q.brine.salt_added || q.brine.premix || q.brine.salt) {
        throw base::InputError("--target-salt", percent(q.wish->salt),
                               "asks for a recipe, and one is given as well", "keep one of them");
    }
    if (!(balance.meat > 0)) {
        throw base::InputError("--weight", "", "is missing",
                               "targets need the weight of the meat: --weight \"2.5 kg\"");
    }
    const auto parts = materials::composition(records, materials::default_cut(records, q.muscle));
    return {q.way,
            q.wish->salt,
            q.wish->nitrite,
            q.pump.value_or(0),
            balance,
            materials::density(records, parts),
            q.wish->container,
            q.brine};
}

/// So much of the water kept back as ice that the brine comes as cold as the cooler.
void keep_back_ice(Brine& brine, double temperature, base::Records& records) {
    if (!brine.cooling || !brine.water) {
        return;
    }
    Chill whole = pot(brine, make_pickle(brine, temperature, records));
    const double target = std::min(temperature, records.si("cooler.limit"));
    if (const auto ice = ice_in_place_of_water(whole, target, records)) {
        brine.ice = *ice;
        *brine.water -= *ice;
    }
}

constexpr const char* without_erythorbate = "bacon-without-erythorbate";

bool breaks_law(const BrineSheet& s) {
    return s.findings.has("over-limit") || s.findings.has("below-least") ||
           s.findings.has(without_erythorbate);
}

/// How far rounding has moved the premix [1].
double premix_moved(const BrineSheet& s) {
    return s.exact && s.exact->premix ? std::abs(1 - *s.recipe.premix / *s.exact->premix) : 0;
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

namespace {

/// The sheet of one recipe, or of a strength.
BrineSheet sheet_of(const BrineQuestion& question, const Brine& recipe,
                    const std::optional<Brine>& exact, double step, base::Records records) {
    BrineSheet sheet;
    sheet.question = question;
    sheet.recipe = recipe;
    sheet.exact = exact;
    sheet.step = step;
    const Balance balance = balance_of(question, records);
    sheet.ingredients = ingredients_of(sheet.recipe, question, records);
    for (const Brine& variant : variants(sheet.recipe)) {
        const bool first = sheet.figures.empty();
        Pickle p;
        try {
            p = dry(question.way) ? on_meat(variant, balance.meat)
                                  : make_pickle(variant, question.temperature, records);
        } catch (const base::InputError& error) {
            if (first) {
                throw;
            }
            sheet.findings.tell("brine", "spoons that weigh heavy make more salt than dissolves");
            continue;
        }
        const auto figures = dry(question.way) ? dry_figures(p, question, balance, records)
                                               : figures_of(p, question, balance, records);
        const auto doses = doses_of(p, question, balance.meat, records);
        if (first) {
            sheet.pickle = p;
            if (!dry(question.way) && sheet.ingredients.empty())
                sheet.ingredients = ingredients_of(weighed_out(recipe, p), question, records);
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
    if (sheet.recipe.cooling && !dry(question.way)) {
        sheet.cooled = cool(sheet, records);
    }
    const judge::Weighed weighed = weigh(sheet);
    sheet.least = judge::least_for(weighed, judge::by_law(weighed, records), records);
    sheet.fatal = materials::fatal_dose(records);
    sheet.harmful = materials::harmful_dose(records);
    judge_brine(sheet, records);
    sheet.parameters = records.used();
    return sheet;
}

} // namespace

BrineSheet work_out(const BrineQuestion& question, base::Records records) {
    if (question.pick_up && question.pump) {
        throw base::InputError("--pump", percent(*question.pump), "does not go with --pick-up",
                               "keep the one that is weighed");
    }
    if (dry(question.way) && !(question.weight > 0)) {
        throw base::InputError("--weight", "", "is missing",
                               "a dry cure is weighed by the meat: --weight \"2.5 kg\"");
    }
    if (!question.wish) {
        BrineSheet sheet = sheet_of(question, question.brine, {}, 0, records);
        if (question.container) {
            const auto parts =
                materials::composition(records, materials::default_cut(records, question.muscle));
            check_room(*question.container, question.meat(), materials::density(records, parts),
                       sheet.pickle);
        }
        return sheet;
    }
    const Targets targets = targets_of(question, balance_of(question, records), records);
    Brine exact = make_brine(targets, question.temperature, records);
    if (!dry(question.way)) {
        keep_back_ice(exact, question.temperature, records);
    }
    // The coarsest scales that do, and of what they can weigh what the law is kept by.
    std::optional<BrineSheet> best;
    for (const double step :
         question.wish->scale ? std::vector{*question.wish->scale} : std::vector{1e-3, 1e-4}) {
        for (const Brine& recipe : weighable(targets, exact, step, question.temperature, records)) {
            BrineSheet s = sheet_of(question, recipe, exact, step, records);
            const bool lawful = best && breaks_law(*best) && !breaks_law(s);
            const bool finer = best && step < best->step && premix_moved(*best) > much_moved;
            if (!best || lawful || (finer && breaks_law(s) <= breaks_law(*best))) {
                best = std::move(s);
            }
        }
    }
    if (best->findings.has(without_erythorbate) && !question.brine.erythorbate) {
        // What the law asks for with the nitrite belongs to the recipe.
        const auto level =
            judge::limit_for(weigh(*best), "pumped", "erythorbate", records).value().value;
        BrineQuestion with = question;
        with.brine.erythorbate = level / *question.pump * best->pickle.mass;
        with.brine.ascorbate = true;
        return work_out(with, records);
    }
    return *best;
}

} // namespace tidemark::cure
