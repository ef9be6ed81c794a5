// SPDX-License-Identifier: MIT
/// Ingredients first, then the rest of the question.
#include "cli/brine_from_options.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/show.hpp"
#include "cli/values.hpp"
#include "materials/brine.hpp"
#include "materials/measures.hpp"
#include "materials/meat.hpp"
#include "materials/targets.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>

namespace tidemark::cli {
namespace {

using base::InputError;
using enum base::Dimension;

/// Reads the ingredients one by one.
class Pot {
public:
    Pot(const Options& options, base::Records& records, std::vector<std::string>& warnings)
        : options_(options), values_(options), records_(records), warnings_(warnings) {}

    /// Kilograms of a dry ingredient; a spoon or cup of it is weighed by the records, with a
    /// warning, and `factor` tells how far it may be off.
    std::optional<double> weighed(const char* flag, const std::string& item, double& factor) {
        const auto amount = values_.amount(flag);
        if (!amount || amount->dimension == mass) {
            return amount ? std::optional(amount->si) : std::nullopt;
        }
        const double kilograms = materials::measured_mass(records_, item, amount->si);
        const base::Record& record = records_.use("measure." + item + ".tbsp");
        const auto plain = [](double mass) { // without the other unit
            return base::show_mass(mass, base::shown_units() == base::Units::us
                                             ? base::Units::us
                                             : base::Units::metric);
        };
        std::string warning = std::string(flag) + ": " + options_.find(flag)->text + " of " +
                              boost::replace_all_copy(item, "-", " ") + " is about " +
                              plain(kilograms);
        if (const auto spread = output::spread_factor(record.spread)) {
            factor = *spread;
            warning += " (" + plain(kilograms / factor) + " to " + plain(kilograms * factor) + ')';
        }
        warnings_.push_back(warning + ": weigh it");
        return kilograms;
    }

    std::optional<double> water(const char* flag) const {
        constexpr double tap = 293.15; // where jugs are marked, 20 C
        const auto amount = values_.amount(flag);
        return !amount ? std::nullopt
               : amount->dimension == mass
                   ? std::optional(amount->si)
                   : std::optional(amount->si * materials::brine_density(records_, 0, tap));
    }

    /// The thing a flag of kinds measures: "fine" is fine-salt, "sea-fine" sea-salt-fine.
    std::string kind(const char* flag, const std::string& of, const std::string& otherwise) const {
        std::vector<std::string> kinds;
        for (const std::string& item : materials::measure_names(records_)) {
            if (item.find('-' + of) != std::string::npos) {
                kinds.push_back(boost::erase_first_copy(item, '-' + of));
            }
        }
        const std::string kind = values_.name(flag, kinds, otherwise);
        const auto dash = std::min(kind.find('-'), kind.size());
        return kind.substr(0, dash) + '-' + of + kind.substr(dash);
    }

private:
    const Options& options_;
    const Values values_;
    base::Records& records_;
    std::vector<std::string>& warnings_;
};

void premix(const Options& options, const Values& values, base::Records& records,
            cure::Brine& brine) {
    if (options.find("premix-kind")) {
        const auto mix = materials::premix(
            records, values.name("premix-kind", materials::premix_names(records), ""));
        brine.premix_strength = mix.nitrite;
        brine.premix_nitrate = mix.nitrate;
    }
    brine.premix_strength = values.get("premix-nitrite", brine.premix_strength);
    brine.premix_nitrate = values.get("premix-nitrate", brine.premix_nitrate);
}

/// What was written, with targets not yet turned into a recipe.
cure::Brine written(const Options& options, base::Records& records,
                    std::vector<std::string>& warnings) {
    const Values values(options);
    Pot pot(options, records, warnings);
    cure::Brine brine;
    brine.salt = values.get("brine-salt");
    brine.nitrite = values.get("brine-nitrite");
    premix(options, values, records, brine);
    if (brine.nitrite) {
        brine.nitrate = *brine.nitrite * brine.premix_nitrate / brine.premix_strength;
    }
    brine.film = values.get("still");
    if (const auto amount = values.amount("brine")) {
        (amount->dimension == mass ? brine.mass : brine.volume) = amount->si;
    }
    cure::Brine::Spread& spread = brine.spread;
    brine.salt_added = pot.weighed("salt", pot.kind("salt-kind", "salt", "fine"), spread.salt);
    brine.sugar = pot.weighed("sugar", pot.kind("sugar-kind", "sugar", "white"), spread.sugar);
    brine.premix = pot.weighed("premix", "premix", spread.premix);
    brine.erythorbate = values.get("erythorbate");
    brine.ascorbate = options.on("ascorbate") || brine.erythorbate;
    brine.water = pot.water("water");
    if (const Given* given = options.find(brine.water ? "salt" : "brine-salt")) {
        brine.where = given->where;
    }
    brine.cold_water = pot.water("cold-water");
    brine.ice = pot.weighed("ice", "ice", spread.ice);
    const auto hot = values.get("hot");
    if (hot || brine.ice || brine.cold_water) {
        cure::Brine::Cooling cooling;
        cooling.told = hot.has_value();
        cooling.hot = hot.value_or(cooling.hot);
        cooling.ice_temperature = values.get("ice-temperature", cooling.ice_temperature);
        cooling.cold_temperature = values.get("cold-temperature", cooling.cold_temperature);
        brine.cooling = cooling;
    }
    return brine;
}

bool is_recipe(const cure::Brine& b) {
    return b.salt_added || b.sugar || b.premix || b.water || b.ice || b.cold_water || b.erythorbate;
}

/// Targets of a case file give way to a brine on the command line: nothing is wished for then.
std::optional<cure::BrineQuestion::Wish> wish(const Options& options, const Values& values) {
    const auto on_line = [&](const char* flag) {
        const Given* given = options.find(flag);
        return given && given->on_line();
    };
    const auto strengths = {"brine-salt", "brine-nitrite", "salt", "premix", "water"};
    if (options.find("target-salt") && !on_line("target-salt") &&
        std::ranges::any_of(strengths, on_line)) {
        return {};
    }
    cure::BrineQuestion::Wish wish;
    wish.salt = values.get("target-salt", 0);
    wish.nitrite = values.get("target-nitrite", 0);
    wish.container = values.get("container");
    wish.scale = values.get("scale");
    if (wish.salt > 0) {
        return wish;
    }
    // A file may serve choose as well, which has a target of its own.
    const bool otherwise = std::ranges::any_of(
        strengths, [&](const char* flag) { return options.find(flag) != nullptr; });
    for (const char* flag : {"target-nitrite", "container", "scale"}) {
        if (otherwise && flag == std::string("container")) // which is then checked
            continue;
        if (const Given* given = options.find(flag); given && (on_line(flag) || !otherwise)) {
            throw InputError(given->where, given->text, "goes with --target-salt only",
                             "add --target-salt \"2 %\", or give a recipe");
        }
    }
    return {};
}

cure::Way way(const Options& options, const Values& values, const cure::BrineQuestion& q) {
    using enum cure::Way;
    const std::string word = values.name("way", {"brine", "needles", "rub", "bag"},
                                         q.wish && q.pump ? "needles" : "brine");
    if (word == "needles" && !q.pump) {
        const Given& given = *options.find("way");
        throw InputError(given.where, given.text, "needs the gain by the needles",
                         "add --pump \"10 %\"");
    }
    return word == "rub" ? rub : word == "bag" ? bag : word == "needles" ? needles : brine;
}

/// Of the needles' brine, what they take is made: an amount in the file is that of the bucket. One
/// whose strength is told is weighed out in place of a cover brine.
void in_needles(const Options& options, const Values& values, cure::BrineQuestion& q,
                std::vector<std::string>& warnings) {
    const auto in_file = [&](const char* flag) {
        const Given* given = options.find(flag);
        return given && !given->on_line();
    };
    if (in_file("brine")) {
        q.brine.mass.reset();
        q.brine.volume.reset();
    }
    if (q.wish && in_file("container"))
        q.wish->container.reset();
    const auto salt = values.get("pump-salt");
    if (!salt || q.wish)
        return;
    if (q.brine.salt || is_recipe(q.brine))
        warnings.push_back("this is the brine for the needles; leave out --pump and --pump-salt "
                           "for the cover brine");
    cure::Brine needles;
    needles.premix_strength = q.brine.premix_strength;
    needles.premix_nitrate = q.brine.premix_nitrate;
    needles.mass = q.brine.mass;
    needles.volume = q.brine.volume;
    needles.where = options.find("pump-salt")->where;
    needles.salt = salt;
    needles.nitrite = values.get("pump-nitrite");
    if (needles.nitrite)
        needles.nitrate = *needles.nitrite * needles.premix_nitrate / needles.premix_strength;
    if (!needles.mass && !needles.volume && q.weight > 0)
        needles.mass = *q.pump * q.weight * q.pieces;
    q.brine = needles;
    q.container.reset();
}

/// `to_weigh`: of a brine that is made up now, not of one that a piece lies in.
cure::BrineQuestion asked(const Options& options, base::Records& records,
                          std::vector<std::string>& warnings, bool to_weigh) {
    const Values values(options);
    cure::BrineQuestion q;
    q.wish = wish(options, values);
    q.brine = written(options, records, warnings);
    if (!q.wish)
        q.container = values.get("container");
    if (q.wish) {
        Pot pot(options, records, warnings);
        q.wish->salt_item = pot.kind("salt-kind", "salt", "fine");
        q.wish->sugar_item = pot.kind("sugar-kind", "sugar", "white");
    }
    q.muscle = values.muscle(records, q.muscle);
    q.weight = values.get("weight", 0);
    q.pieces = values.count("pieces", 1);
    for (const Given& file : options.all("with")) {
        const Options other = read_piece_file(file);
        const Values of(other);
        const double each = of.get("weight", 0);
        q.beside += each * of.count("pieces", 1);
        if (!(each > 0))
            warnings.push_back(file.text + ": has no weight, so this piece is not counted");
    }
    q.temperature = values.get("cooler", q.temperature);
    q.law = values.name("law", materials::code_names(records), q.law);
    q.product = values.name("product", materials::product_classes(records), q.product);
    q.rind = options.on("rind");
    q.pick_up = values.get("pick-up");
    q.pump = values.get("pump");
    q.way = way(options, values, q);
    if (to_weigh && q.pump && (options.find("pump-salt") || q.way == cure::Way::needles))
        in_needles(options, values, q, warnings);
    const bool recipe = is_recipe(q.brine);
    if (dry(q.way)) {
        if (!q.wish && !q.brine.salt_added) {
            throw InputError("--salt", "", "is missing",
                             "give --salt \"50 g\" of one piece, or --target-salt \"2 %\"");
        }
        for (const char* flag :
             {"water", "ice", "cold-water", "brine", "brine-salt", "container"}) {
            if (const Given* given = options.find(flag)) {
                throw InputError(given->where, given->text, "is no part of a dry cure",
                                 "leave it out, or leave out --way");
            }
        }
        return q;
    }
    if (!q.wish && recipe && !q.brine.water) {
        throw InputError("--water", "", "is missing from the recipe", "give it as --water \"6 L\"");
    }
    if (!q.wish && !recipe && !q.brine.salt) {
        throw InputError(
            "--brine-salt", "", "is missing",
            "give --brine-salt \"6 %\", or a recipe: --water \"6 L\" --salt \"400 g\"; for a rub "
            "or a bag ask tidemark plan, or brine --way bag");
    }
    if (recipe && (q.brine.salt || q.brine.nitrite)) {
        warnings.push_back("the brine is given by strength and by recipe: the recipe is used");
    }
    return q;
}

} // namespace

cure::Brine premix_from_options(const Options& options, base::Records& records) {
    cure::Brine brine;
    premix(options, Values(options), records, brine);
    return brine;
}

cure::BrineQuestion brine_question(const Options& options, base::Records& records,
                                   std::vector<std::string>& warnings) {
    return asked(options, records, warnings, true);
}

cure::Brine brine_from_options(const Options& options, base::Records& records,
                               std::vector<std::string>& warnings) {
    cure::BrineQuestion question = asked(options, records, warnings, false);
    if (dry(question.way)) {
        const Given& given = *options.find("way");
        throw InputError(given.where, given.text, "is no brine",
                         "use tidemark plan with the stage that tidemark brine prints");
    }
    if (!question.wish) {
        return question.brine;
    }
    return cure::work_out(question, records).recipe;
}

} // namespace tidemark::cli
