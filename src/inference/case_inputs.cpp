// SPDX-License-Identifier: MIT
#include "inference/case_inputs.hpp"

#include "base/error.hpp"
#include "materials/colour.hpp"
#include "materials/diffusion.hpp"
#include "materials/meat.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

namespace tidemark::inference {
namespace {

bool overridden(const cure::Case& question, const std::string& key) {
    return std::ranges::count(question.overrides, key, &cure::Case::Override::key) > 0;
}

std::string muscle_key(const cure::Case& question, const char* what) {
    return "muscle." + question.piece.muscle + '.' + what;
}

/// The numbers of models/posterior.ini.
constexpr const char* weighed[] = {"pork-speed", "beef-speed", "salt-slope", "ratio",
                                   "half-life",  "eye",        "fat-water"};
constexpr Eigen::Index weighed_count = std::size(weighed);

/// An input that all meat shares in part: its logarithm in the numbers weighed.
struct Shared {
    Input input;
    Eigen::Matrix<double, weighed_count, 1> slope = Eigen::Matrix<double, weighed_count, 1>::Zero();

    /// The section "posterior.NAME" counts so much; false if there is no such.
    bool add(const std::string& section, double by) {
        for (Eigen::Index i = 0; i < weighed_count; ++i) {
            if (section == std::string("posterior.") + weighed[i]) {
                slope[i] = by;
                return true;
            }
        }
        return false;
    }
};

/// Covariance of what was weighed.
Eigen::MatrixXd weighed_covariance(const base::Records& records) {
    Eigen::MatrixXd c(weighed_count, weighed_count);
    const auto sd = [&](Eigen::Index i) {
        return records.find(std::string("posterior.") + weighed[i] + ".sd")->value;
    };
    for (Eigen::Index i = 0; i < weighed_count; ++i) {
        for (Eigen::Index j = 0; j <= i; ++j) {
            const base::Record* r =
                records.find(std::string("posterior.correlation.") + weighed[j] + '_' + weighed[i]);
            c(i, j) = c(j, i) = sd(i) * sd(j) * (i == j ? 1 : r != nullptr ? r->value : 0);
        }
    }
    return c;
}

void share(Inputs& inputs, const std::vector<Shared>& shared, const base::Records& records) {
    if (shared.empty()) {
        return;
    }
    std::vector<Input> list;
    Eigen::MatrixXd slopes(static_cast<Eigen::Index>(shared.size()), weighed_count);
    for (std::size_t k = 0; k < shared.size(); ++k) {
        list.push_back(shared[k].input);
        slopes.row(static_cast<Eigen::Index>(k)) = shared[k].slope.transpose();
    }
    inputs.share(list, slopes * weighed_covariance(records) * slopes.transpose());
}

/// What must be reached over what the brine would bring [1]: by the core, and by the mean salt.
struct Asked {
    Pace::Span core, mean; ///< from cured to lasting; from salted to too salty
};

Asked asked(const cure::Case& question, const cure::Setup& setup, const base::Records& before) {
    base::Records records = as_set(question, before);
    const cure::Tissue& lean = setup.tissues.at("lean");
    const double salt = setup.salt_bath.partition * setup.salt_bath.concentration,
                 nitrite = setup.nitrite_bath.partition * setup.nitrite_bath.concentration;
    Asked a; // of what a rub or needles bring: about the middle
    if (salt > 0) {
        const materials::Band taste = materials::taste_band(records);
        a.mean = {lean.concentration(taste.low) / salt, lean.concentration(taste.high) / salt};
        const double core = lean.concentration(materials::salt_floor(records)) / salt;
        a.core = {core, core};
    }
    if (nitrite > 0) {
        const double pink = materials::pink_threshold(
                         records, materials::myoglobin(records, question.piece.muscle)),
                     lasting = materials::stable_threshold(
                         records, materials::species_of(records, question.piece.muscle)),
                     level = 1 / (lean.water_fraction * nitrite);
        a.core = {materials::cured_threshold(records, pink, lasting) * level, lasting * level};
    }
    return a;
}

} // namespace

base::Records as_set(const cure::Case& question, base::Records records) {
    for (const auto& o : question.overrides) {
        if (o.key != "loss") {
            records.set(o.key, o.text, o.where);
        }
    }
    return records;
}

Inputs case_inputs(const cure::Case& question, const cure::Setup& setup,
                   const base::Records& before) {
    using enum Distribution::Kind;
    base::Records records = as_set(question, before);
    const auto factor = [&](const std::string& key) {
        const base::Record& r = *before.find(key);
        return factor_spread(r.spread, r.value);
    };
    const cure::Piece& piece = question.piece;
    const std::string species = materials::species_of(records, piece.muscle);
    Inputs inputs;
    std::vector<Shared> shared;
    const std::string speed = muscle_key(question, "diffusivity");
    inputs.add({"diffusivity", "diffusivity", factor(speed)});
    if (Shared s{{"diffusivity", "diffusivity", {}}}; s.add(before.mover(speed), 1)) {
        if (question.brine.salt || question.brine.water) // of another strength than was measured
            s.add("posterior.salt-slope", materials::beyond_weak_brine(setup.pickle.salt));
        shared.push_back(s);
    }
    if (piece.frozen) {
        inputs.add({"handling", "diffusivity", factor("diffusion.frozen-thawed")});
    }
    inputs.add({"thickness",
                "thickness",
                {normal, 1, records.si("uncertainty.thickness") / (2 * setup.half_thickness)}});
    inputs.add({"cooler", "cooler", {normal, 0, records.si("uncertainty.cooler")}});
    inputs.add({"partition", "partition", factor("solute.salt.partition")});
    const cure::Brine& brine = question.brine;
    const double weighed = records.si("uncertainty.weighed");
    const auto measured = [&](double spoon) {
        return Distribution{lognormal, 1, brine.water && spoon > 1 ? spoon : weighed};
    };
    inputs.add({"salt", "brine", measured(brine.spread.salt)});
    if (setup.pickle.nitrite > 0) {
        inputs.add({"premix", "brine", measured(brine.spread.premix)});
        inputs.add({"nitrite-ratio", "nitrite-ratio", factor("solute.nitrite.diffusivity-ratio")});
        shared.push_back({{"nitrite-ratio", "nitrite-ratio", {}}});
        shared.back().add("posterior.ratio", 1);
        inputs.add({"threshold", "colour", factor("colour.threshold.base")});
        inputs.add({"myoglobin", "colour", factor(muscle_key(question, "myoglobin"))});
        inputs.add({"lasting", "lasting", factor("colour.stable." + species)});
        if (!overridden(question, "colour.eye")) {
            const double pink = materials::pink_threshold(
                             records, materials::myoglobin(records, piece.muscle)),
                         lasting = materials::stable_threshold(records, species);
            shared.push_back({{"eye", "eye", {}}});
            shared.back().add("posterior.eye", std::log(lasting / pink));
        }
        if (!overridden(question, "loss")) {
            inputs.add(
                {"ph", "loss", shift_spread(before.find(muscle_key(question, "ph"))->spread)});
        }
        const auto off = [](const cure::Case::Override& o) {
            return o.key == "loss" && o.text == "none";
        };
        if (std::ranges::none_of(question.overrides, off)) {
            const std::string half_life =
                brine.ascorbate ? "kinetics.half-life-ascorbate" : "kinetics.half-life";
            inputs.add({"loss", "loss", factor(half_life)});
            if (Shared s{{"loss", "loss", {}}}; s.add(before.mover(half_life), -1)) {
                shared.push_back(s);
            }
        }
    }
    if (brine.water && brine.ice.value_or(0) > 0) {
        inputs.add({"ice", "brine", measured(brine.spread.ice)});
    }
    // Near the warmth that diffusivities belong to another energy moves nothing.
    constexpr double felt = 0.01; // of the logarithm of the pace, by one standard deviation [1]
    const Distribution energy = factor("diffusion.activation-energy");
    const double by_energy = std::log(
        materials::arrhenius(1, energy.b * records.si("diffusion.activation-energy"),
                             records.si("diffusion.reference-temperature"), question.temperature));
    if (std::abs(by_energy) > felt) {
        inputs.add({"activation-energy", "diffusivity", energy});
    }
    if (Pace::has_fibres(question, setup)) {
        inputs.add({"fibre-ratio", "fibres", factor("diffusion.fibre-ratio")});
    }
    if (Pace::has_fat(question, setup)) {
        inputs.add({"fat", "fat", factor("adipose.diffusivity")});
        shared.push_back({{"fat-water", "fat", {}}});
        shared.back().add("posterior.fat-water", 1);
    }
    share(inputs, shared, before);
    return inputs;
}

Plain plain(const std::string& group) {
    static const std::map<std::string, Plain> words{
        {"diffusivity",
         {"how fast salt moves in this meat", "look at the ring of a slice",
          "all meat, the shop, the piece"}},
        {"nitrite-ratio", {"how fast nitrite moves beside salt", "the same slice", "all meat"}},
        {"thickness", {"the thickness", "measure it again, give --thickness-sd", "the piece"}},
        {"cooler", {"the cooler", "a thermometer in water, give --cooler-sd", "the shop"}},
        {"partition", {"how salt shares itself between brine and meat", "", "all meat"}},
        {"colour", {"nitrite this meat needs for pink", "name the very muscle", "the piece"}},
        {"lasting", {"nitrite a lasting colour needs", "", "all meat"}},
        {"eye",
         {"what you call cured, from first pink to lasting", "give --threshold", "all meat"}},
        {"loss",
         {"how fast nitrite is used up", "slices on two days", "all meat, the shop, the piece"}},
        {"brine", {"what went into the brine", "weigh salt and premix, and stir", "the shop"}},
        {"dose", {"what the rub or the needles bring", "weigh it before and after", "the piece"}},
        {"fibres", {"how the cure moves along the fibres", "", "all meat"}},
        {"fat", {"what fat lets through", "trim it, or score it", "all meat"}},
    };
    const auto found = words.find(group);
    return found == words.end() ? Plain{group, "", ""} : found->second;
}

Drawing::Drawing(const Inputs& inputs, const cure::Case& question, const cure::Setup& setup,
                 const base::Records& before)
    : diffusivity_(inputs.column("diffusivity")), handling_(inputs.column("handling")),
      ratio_(inputs.column("nitrite-ratio")), thickness_(inputs.column("thickness")),
      cooler_(inputs.column("cooler")), partition_(inputs.column("partition")),
      threshold_(inputs.column("threshold")), myoglobin_(inputs.column("myoglobin")),
      lasting_(inputs.column("lasting")), eye_(inputs.column("eye")), loss_(inputs.column("loss")),
      ph_(inputs.column("ph")), salt_(inputs.column("salt")), premix_(inputs.column("premix")),
      ice_(inputs.column("ice")), dose_(inputs.column("dose")), needles_(inputs.column("needles")),
      energy_(inputs.column("activation-energy")), fibres_(inputs.column("fibre-ratio")),
      fat_(inputs.column("fat")), fat_water_(inputs.column("fat-water")), brine_(question.brine),
      temperature_(question.temperature) {
    const Asked levels = asked(question, setup, before);
    core_ = levels.core;
    mean_ = levels.mean;
    coloured_ = setup.nitrite_bath.concentration > 0;
    if (fat_ >= 0 || fat_water_ >= 0 || fibres_ >= 0)
        pace_ = Pace(question, setup, core_, mean_);
    base::Records records = as_set(question, before);
    diffusion_energy_ = records.si("diffusion.activation-energy");
    reference_ = records.si("diffusion.reference-temperature");
    // A loss that was set is that of this temperature; it still changes with the temperature.
    loss_energy_ = records.si("kinetics.activation-energy");
    ph_lean_ = records.si(muscle_key(question, "ph"));
    ph_factor_ = overridden(question, "loss") ? 1 : records.si("kinetics.ph-factor");
    const double base = records.si("colour.threshold.base"),
                 pigment = records.si("colour.threshold.slope") *
                           materials::myoglobin(records, question.piece.muscle);
    pigment_ = pigment / (base + pigment);
    seen_ = records.si("colour.eye");
    // Meat of a known weight stays what it is; otherwise it grows with the section.
    meat_power_ = setup.section || setup.power > 0 ? setup.power == 2 && !setup.section ? 3 : 2 : 1;
    if (question.piece.weight > 0 && meat_power_ < 3) {
        meat_power_ = 0;
    }
}

Draw Drawing::operator()(const Eigen::VectorXd& values) const {
    const auto value = [&](int column, double otherwise = 1) {
        return column < 0 ? otherwise : values[column];
    };
    Draw d;
    // A tenth of the thickness is a bound no ruler passes; it keeps the far tail from zero.
    d.size = std::max(0.1, value(thickness_));
    const double temperature = temperature_ + value(cooler_, 0);
    const auto warm = [&](double energy, double from) {
        return materials::arrhenius(1, energy, from, temperature);
    };
    // Another energy counts from where the diffusivities belong to.
    const double warmth = warm(diffusion_energy_, temperature_) *
                          warm(diffusion_energy_ * (value(energy_) - 1), reference_);
    d.salt_speed = value(diffusivity_) * value(handling_) * warmth;
    d.fat = value(fat_);
    d.fat_water = value(fat_water_);
    d.fibres = value(fibres_);
    d.nitrite_speed = d.salt_speed * value(ratio_);
    d.temperature = temperature;
    d.ph = ph_lean_ + value(ph_, 0);
    d.loss = warm(loss_energy_, temperature_) * value(loss_) * std::pow(ph_factor_, -value(ph_, 0));
    d.partition = value(partition_);
    d.lasting = value(lasting_);
    const double pink = value(threshold_) * (1 + pigment_ * (value(myoglobin_) - 1));
    d.threshold = std::pow(pink, 1 - seen_) * value(eye_);
    d.meat = std::pow(d.size, meat_power_);
    d.dose = value(dose_);
    d.needles = value(needles_);
    brine(d, value(salt_), value(premix_), value(ice_));
    pace(d);
    return d;
}

void Drawing::pace(Draw& d) const {
    const double lost = d.loss * d.size * d.size / d.nitrite_speed;
    const Eigen::VectorXd weights = pace_.weights(d.fat, d.fat_water, d.fibres);
    const auto by = [&](Followed of, double level) { return pace_(of, level, lost, weights); };
    const double salt = d.partition * d.salt, nitrite = d.partition * d.nitrite;
    d.pace = by(of_core, core_.low * (coloured_ ? d.threshold / nitrite : 1 / salt));
    d.pace_lasting = by(of_core, core_.high * (coloured_ ? d.lasting / nitrite : 1 / salt));
    d.pace_salted = by(of_mean, mean_.low / salt);
    d.pace_too_salty = by(of_mean, mean_.high / salt);
}

void Drawing::brine(Draw& d, double salt, double premix, double ice) const {
    struct Parts {
        double water, salt, nitrite, rest;
    };
    const auto parts = [&](double fs, double fp, double fi) -> Parts {
        const cure::Brine& b = brine_;
        if (!b.water) {
            const double s = *b.salt * fs, n = b.nitrite.value_or(0) * fp;
            return {1 - s - n, s, n, 0};
        }
        const double p = b.premix.value_or(0) * fp, n = p * b.premix_strength,
                     na = p * b.premix_nitrate;
        return {*b.water + b.ice.value_or(0) * fi + b.cold_water.value_or(0),
                b.salt_added.value_or(0) * fs + p - n - na, n,
                na + b.sugar.value_or(0) + b.erythorbate.value_or(0)};
    };
    const Parts now = parts(salt, premix, ice), middle = parts(1, 1, 1);
    const auto all = [](const Parts& p) { return p.water + p.salt + p.nitrite + p.rest; };
    d.salt = now.salt / now.water / (middle.salt / middle.water);
    d.nitrite = middle.nitrite > 0 ? now.nitrite / now.water / (middle.nitrite / middle.water) : 1;
    d.water = now.water / middle.water;
    if (!brine_.water || brine_.mass || brine_.volume) { // so much brine, whatever went into it
        d.water *= all(middle) / all(now);
    }
}

} // namespace tidemark::inference
