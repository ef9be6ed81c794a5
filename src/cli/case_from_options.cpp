// SPDX-License-Identifier: MIT
/// One table of ranges, then one function for each part of the case.
#include "cli/case_from_options.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "materials/brine.hpp"
#include "materials/measures.hpp"
#include "materials/meat.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace tidemark::cli {
namespace {

using base::Dimension;
using base::InputError;
using enum base::Dimension;

/// What a flag may hold. Ranges are wide: they catch slips of the hand and of the unit, and leave
/// judgement to the warnings of the model. Common practice, no source.
struct Range {
    const char* flag;
    Dimension dimension;
    const char* low;
    const char* high;
    const char* remedy;
};
constexpr const char* slip = "check the number and its unit";
constexpr Range ranges[] = {
    {"thickness", length, "2 mm", "600 mm", "measure the piece where it is thickest"},
    {"width", length, "2 mm", "2 m", slip},
    {"length", length, "2 mm", "3 m", slip},
    {"weight", mass, "5 g", "200 kg", "give the weight of one piece"},
    {"pieces", number, "1", "10000", "give a whole number of pieces"},
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
    {"still", speed, "1e-9 m/s", "1e-2 m/s", "leave it out for a brine that is stirred"},
    {"cooler", temperature, "-4 C", "15 C",
     "meat must be kept cold: give the cooler's temperature"},
    {"at", duration, "1 min", "1000 d", slip},
    {"horizon", duration, "1 h", "1000 d", slip},
    {"cells", number, "4", "400", "give a whole number; 24 is enough for most pieces"},
    {"diffusivity", diffusivity, "1e-13 m2/s", "1e-7 m2/s", slip},
    {"nitrite-ratio", number, "0.01", "100", slip},
    {"partition", number, "0.01", "10", slip},
    {"activation-energy", molar_energy, "0 kJ/mol", "200 kJ/mol", slip},
    {"threshold", fraction, "0.01 ppm", "5000 ppm", slip},
    {"myoglobin", fraction, "0 g/kg", "30 g/kg", slip},
    {"ph", number, "4.5", "7.5", "meat lies between 5.3 and 6.5"},
    {"fibre-ratio", number, "0.1", "10", slip},
};

/// Throws unless low <= value <= high, the limits being written as a cook would.
void check(const Given& given, double value, const Range& range) {
    if (value < base::parse(range.low, range.dimension, "") ||
        value > base::parse(range.high, range.dimension, "")) {
        throw InputError(given.where, given.text,
                         std::string("must be from ") + range.low + " to " + range.high,
                         range.remedy);
    }
}

/// Reads `options` by the table.
class Values {
public:
    explicit Values(const Options& options) : options_(options) {}

    std::optional<double> get(const char* flag) const {
        const Given* given = options_.find(flag);
        if (!given) {
            return {};
        }
        const Range& range = *std::ranges::find(ranges, std::string(flag), &Range::flag);
        const double value = base::parse(given->text, range.dimension, given->where);
        check(*given, value, range);
        return value;
    }

    double get(const char* flag, double otherwise) const { return get(flag).value_or(otherwise); }

    int count(const char* flag, int otherwise) const {
        const double value = get(flag, otherwise);
        if (value != std::round(value)) {
            const Given& given = *options_.find(flag);
            throw InputError(given.where, given.text, "is not a whole number", "round it");
        }
        return static_cast<int>(value);
    }

    /// A word out of a list; spaces in it may stand for hyphens.
    std::string name(const char* flag, const std::vector<std::string>& known,
                     const std::string& otherwise) const {
        const Given* given = options_.find(flag);
        return given ? one_of(*given, boost::replace_all_copy(given->text, " ", "-"), known)
                     : otherwise;
    }

    static std::string one_of(const Given& given, const std::string& word,
                              const std::vector<std::string>& known) {
        if (std::ranges::count(known, word) > 0) {
            return word;
        }
        const std::string near = base::nearest(word, known);
        throw InputError(given.where, given.text, "is not a known name",
                         near.empty() ? "use one of " + boost::join(known, ", ")
                                      : "did you mean " + near + "?");
    }

    /// Mass or volume.
    std::optional<base::Quantity> amount(const char* flag) const {
        const Given* given = options_.find(flag);
        if (!given) {
            return {};
        }
        const auto quantity = base::parse_either(given->text, mass, volume, given->where);
        check(*given, quantity.si,
              quantity.dimension == mass ? Range{flag, mass, "0.1 g", "10000 kg", slip}
                                         : Range{flag, volume, "0.1 mL", "10000 L", slip});
        return quantity;
    }

private:
    const Options& options_;
};

cure::Piece piece(const Options& options, const Values& values, const base::Records& records) {
    cure::Piece piece;
    piece.muscle = values.name("muscle", materials::muscle_names(records), piece.muscle);
    piece.cut = values.name("cut", materials::cut_names(records), piece.cut);
    const Given* outline = options.find("outline");
    piece.shape = values.name("shape", cure::shape_names(), outline ? "outline" : piece.shape);
    if (const Given* shape = options.find("shape");
        (piece.shape == "outline") != (outline != nullptr)) {
        throw InputError(shape->where, shape->text,
                         outline ? "does not go with an outline" : "needs the outline",
                         outline ? "leave out one of the two" : "give --outline FILE");
    }
    piece.outline_file = outline ? outline->text : "";

    geometry::Dimensions& d = piece.dimensions;
    d.thickness = values.get("thickness", 0);
    if (d.thickness == 0 && !outline) {
        throw InputError("--thickness", "", "is missing", "give it as --thickness \"65 mm\"");
    }
    d.width = values.get("width", 0);
    d.fat_cap = values.get("fat-cap", 0);
    d.bones = values.count("bones", 0);
    d.bone_diameter = values.get("bone-diameter", 0);
    d.bone_depth = values.get("bone-depth", 0);
    if (const Given* seal = options.find("seal")) {
        std::vector<std::string> faces;
        boost::split(faces, seal->text, boost::is_any_of(", "), boost::token_compress_on);
        for (const std::string& face : faces) {
            d.sealed.push_back(Values::one_of(*seal, face, {"top", "bottom", "left", "right"}));
        }
    }
    piece.length = values.get("length", 0);
    piece.weight = values.get("weight", 0);
    piece.pieces = values.count("pieces", 1);
    piece.marbling = values.get("marbling", 0);
    piece.frozen = options.on("frozen");
    piece.fibre_angle = values.get("fibre-angle");
    return piece;
}

/// Kilograms of a dry ingredient; a spoon or cup of it is weighed by the records, with a warning.
std::optional<double> weighed(const Options& options, const Values& values, const char* flag,
                              const std::string& item, base::Records& records,
                              std::vector<std::string>& warnings) {
    const auto amount = values.amount(flag);
    if (!amount || amount->dimension == mass) {
        return amount ? std::optional(amount->si) : std::nullopt;
    }
    const double kilograms = materials::measured_mass(records, item, amount->si);
    const base::Record& record = records.use("measure." + item + ".tbsp");
    std::string warning = std::string(flag) + ": " + options.find(flag)->text + " of " +
                          boost::replace_all_copy(item, "-", " ") + " is taken as " +
                          base::show_mass(kilograms);
    if (const auto factor = output::spread_factor(record.spread)) {
        warning += ", but may weigh " + base::show_mass(kilograms / *factor) + " to " +
                   base::show_mass(kilograms * *factor);
    }
    warnings.push_back(warning + ": weigh it");
    return kilograms;
}

cure::Brine brine(const Options& options, const Values& values, base::Records& records,
                  std::vector<std::string>& warnings) {
    cure::Brine brine;
    brine.salt = values.get("brine-salt");
    brine.nitrite = values.get("brine-nitrite");
    brine.premix_strength = values.get("premix-nitrite", brine.premix_strength);
    brine.ascorbate = options.on("ascorbate");
    brine.film = values.get("still");
    if (const auto amount = values.amount("brine")) {
        (amount->dimension == mass ? brine.mass : brine.volume) = amount->si;
    }

    std::vector<std::string> kinds;
    for (const std::string& item : materials::measure_names(records)) {
        if (item.find("-salt") != std::string::npos) {
            kinds.push_back(boost::erase_first_copy(item, "-salt"));
        }
    }
    const std::string kind = values.name("salt-kind", kinds, "fine");
    // "fine" is measured as fine-salt, "sea-fine" as sea-salt-fine.
    const auto dash = std::min(kind.find('-'), kind.size());
    const std::string salt = kind.substr(0, dash) + "-salt" + kind.substr(dash);
    brine.salt_added = weighed(options, values, "salt", salt, records, warnings);
    brine.sugar = weighed(options, values, "sugar", "white-sugar", records, warnings);
    brine.premix = weighed(options, values, "premix", "premix", records, warnings);
    if (const auto water = values.amount("water")) {
        constexpr double tap = 293.15; // where jugs are marked, 20 C
        brine.water = water->dimension == mass
                          ? water->si
                          : water->si * materials::brine_density(records, 0, tap);
    }

    const bool recipe = brine.salt_added || brine.sugar || brine.premix || brine.water;
    if (recipe && !brine.water) {
        throw InputError("--water", "", "is missing from the recipe", "give it as --water \"6 L\"");
    }
    if (!recipe && !brine.salt) {
        throw InputError(
            "--brine-salt", "", "is missing",
            "give --brine-salt \"6 %\", or a recipe: --water \"6 L\" --salt \"400 g\"");
    }
    if (recipe && (brine.salt || brine.nitrite)) {
        warnings.push_back("the brine is given by strength and by recipe: the recipe is used");
    }
    return brine;
}

std::vector<cure::Case::Override> overrides(const Options& options, const Values& values,
                                            const std::string& muscle) {
    std::vector<cure::Case::Override> list;
    const auto put = [&](const char* flag, const std::vector<std::string>& keys) {
        if (values.get(flag)) {
            const Given& given = *options.find(flag);
            for (const std::string& key : keys) {
                list.push_back({key, given.text, given.where});
            }
        }
    };
    put("diffusivity", {"muscle." + muscle + ".diffusivity"});
    put("nitrite-ratio", {"solute.nitrite.diffusivity-ratio"});
    put("partition", {"solute.salt.partition", "solute.nitrite.partition"});
    put("activation-energy", {"diffusion.activation-energy"});
    put("myoglobin", {"muscle." + muscle + ".myoglobin"});
    put("ph", {"muscle." + muscle + ".ph"});
    put("fibre-ratio", {"diffusion.fibre-ratio"});
    put("threshold", {"colour.threshold.base"});
    if (const Given* threshold = options.find("threshold")) {
        list.push_back({"colour.threshold.slope", "0 g/kg", threshold->where});
    }
    if (const Given* loss = options.find("loss")) {
        if (loss->text != "none") {
            const auto value = base::parse_either(loss->text, duration, rate, loss->where);
            check(*loss, value.si,
                  value.dimension == rate ? Range{"loss", rate, "1e-6 1/d", "100 1/d", slip}
                                          : Range{"loss", duration, "1 min", "1000000 d", slip});
        }
        list.push_back({"loss", loss->text, loss->where});
    }
    for (const Given& set : options.all("set")) {
        const auto sign = set.text.find('=');
        if (sign == std::string::npos) {
            throw InputError(set.where, set.text, "is not of the form KEY=VALUE",
                             "see tidemark numbers for the keys");
        }
        list.push_back({base::trim(set.text.substr(0, sign)), base::trim(set.text.substr(sign + 1)),
                        set.where});
    }
    return list;
}

} // namespace

Asked case_from_options(const Options& options, base::Records& records) {
    const Values values(options);
    Asked asked;
    cure::Case& question = asked.question;
    question.piece = piece(options, values, records);
    question.brine = brine(options, values, records, asked.warnings);
    question.temperature = values.get("cooler", question.temperature);
    question.at = values.get("at");
    question.horizon = values.get("horizon", question.horizon);
    question.cells = values.count("cells", static_cast<int>(question.cells));
    question.overrides = overrides(options, values, question.piece.muscle);
    return asked;
}

} // namespace tidemark::cli
