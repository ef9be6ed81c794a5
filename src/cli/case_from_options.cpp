// SPDX-License-Identifier: MIT
/// One function for each part of the case; the brine has a file of its own.
#include "cli/case_from_options.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cli/brine_from_options.hpp"
#include "cli/values.hpp"
#include "materials/limits.hpp"
#include "materials/meat.hpp"
#include "materials/targets.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>

namespace tidemark::cli {
namespace {

using base::InputError;
using enum base::Dimension;

/// What the table of an outline states itself.
void refuse_beside_outline(const Options& options) {
    for (const char* flag :
         {"thickness", "width", "fat-cap", "bones", "bone-diameter", "bone-depth"}) {
        if (const Given* given = options.find(flag)) {
            throw InputError(given->where, given->text,
                             "is for a shape; an outline's table says it",
                             "leave it out, or put it in the table");
        }
    }
}

cure::Piece piece(const Options& options, const Values& values, const base::Records& records,
                  std::vector<std::string>& warnings) {
    cure::Piece piece;
    piece.muscle = values.muscle(records, piece.muscle);
    if (const Given* muscle = options.find("muscle")) {
        piece.called = base::trim(boost::to_lower_copy(muscle->text));
        std::ranges::replace(piece.called, '-', ' ');
        if (boost::replace_all_copy(piece.muscle, "-", " ") == piece.called)
            piece.called.clear();
    }
    piece.cut = values.name("cut", materials::cut_names(records), piece.cut);
    const Given* outline = options.find("outline");
    piece.shape = values.name("shape", cure::shape_names(), outline ? "outline" : piece.shape);
    if (const Given* shape = options.find("shape");
        (piece.shape == "outline") != (outline != nullptr)) {
        throw InputError(shape->where, shape->text,
                         outline ? "does not go with an outline" : "needs the outline",
                         outline ? "leave out one of the two" : "give --outline FILE");
    }
    if (outline) {
        refuse_beside_outline(options);
        piece.outline_file = outline->text;
    }

    geometry::Dimensions& d = piece.dimensions;
    d.thickness = values.get("thickness", 0);
    if (d.thickness == 0 && !outline) {
        throw InputError("--thickness", "", "is missing", "give it as --thickness \"65 mm\"");
    }
    d.width = values.get("width", 0);
    d.fat_cap = values.get("fat-cap", 0);
    if (options.find("bones")) {
        d.bones = values.count("bones", 0);
    }
    d.bone_diameter = values.get("bone-diameter", 0);
    d.bone_depth = values.get("bone-depth", 0);
    if (const Given* seal = options.find("seal")) {
        std::vector<std::string> faces;
        boost::split(faces, seal->text, boost::is_any_of(", "), boost::token_compress_on);
        if (faces == std::vector<std::string>{"none"}) {
            faces.clear();
        }
        for (const std::string& face : faces) {
            const std::string& which =
                Values::one_of(*seal, face, {"top", "bottom", "left", "right", "end", "ends"});
            if (which == "end" || which == "ends") {
                piece.shut_ends = std::max(piece.shut_ends, which == "end" ? 1 : 2);
            } else {
                d.sealed.push_back(which);
            }
        }
    }
    if (outline) { // what was moved to make cells of it
        warnings = geometry::outline_from_csv(base::read_text(piece.outline_file, outline->where,
                                                              geometry::longest_outline),
                                              piece.outline_file, {}, d.sealed)
                       .notes;
    }
    piece.length = values.get("length", 0);
    piece.weight = values.get("weight", 0);
    piece.pieces = values.count("pieces", 1);
    piece.marbling = values.get("marbling", 0);
    piece.frozen = options.on("frozen");
    piece.fibre_angle = values.get("fibre-angle");
    return piece;
}

/// The numbers of the model that the cook sets: by flags of their own, and by --set.
class Overrides {
public:
    Overrides(const Options& options, const base::Records& records)
        : options_(options), records_(records) {}

    void flag(const char* name, const std::vector<std::string>& keys) {
        if (const Given* given = options_.find(name)) {
            for (const std::string& key : keys) {
                records_.check(key, given->text, given->where);
                put(key, *given);
            }
        }
    }

    /// A value in place of what was written, for a flag that is more than one number of a record.
    void put(const std::string& key, const Given& given) {
        const auto twice = std::ranges::find(list_, key, &cure::Case::Override::key);
        if (twice != list_.end()) {
            throw InputError(given.where, key, "is set by " + twice->where + " already",
                             "keep one");
        }
        list_.push_back({key, given.text, given.where});
    }

    /// All that --set gives.
    void set() {
        for (const Given& given : options_.all("set")) {
            set(given);
        }
    }

    std::vector<cure::Case::Override> list() const { return list_; }

private:
    void set(const Given& given) {
        const auto sign = given.text.find('=');
        if (sign == std::string::npos) {
            throw InputError(given.where, given.text, "is not of the form KEY=VALUE",
                             "see tidemark numbers for the keys");
        }
        const std::string key = key_of(given), value = base::trim(given.text.substr(sign + 1));
        records_.check(key, value, given.where + (records_.find(key) != nullptr ? ' ' + key : ""));
        put(key, {value, given.where});
    }

    const Options& options_;
    const base::Records& records_;
    std::vector<cure::Case::Override> list_;
};

/// The band of the salt as the piece leaves the cure: what is eaten, and what is lost on the way.
void taste(Overrides& all, const Options& options, const Values& values, base::Records records) {
    const Given* afterwards = options.find("afterwards");
    const std::string way = values.name("afterwards", materials::ways_afterwards(), "eaten");
    const double factor = materials::salt_afterwards(records, way);
    const auto low = values.get("taste-low"), high = values.get("taste-high");
    const materials::Band usual = materials::taste_band(records);
    if (low.value_or(usual.low) >= high.value_or(usual.high)) {
        const Given& given = *options.find(high ? "taste-high" : "taste-low");
        throw InputError(given.where, given.text, "leaves no band of salt that tastes right",
                         "give --taste-high above --taste-low");
    }
    const auto put = [&](const char* flag, const char* key, double value) {
        const Given* given = options.find(flag) ? options.find(flag) : afterwards;
        if (given) {
            all.put(key, {base::significant(100 * value * factor, 9) + " %", given->where});
        }
    };
    put("taste-low", "target.taste.low", low.value_or(usual.low));
    put("taste-high", "target.taste.high", high.value_or(usual.high));
}

std::vector<cure::Case::Override> overrides(const Options& options, const Values& values,
                                            const base::Records& records,
                                            const std::string& muscle) {
    Overrides all(options, records);
    all.flag("diffusivity", {"muscle." + muscle + ".diffusivity"});
    all.flag("nitrite-ratio", {"solute.nitrite.diffusivity-ratio"});
    all.flag("partition", {"solute.salt.partition", "solute.nitrite.partition"});
    all.flag("activation-energy", {"diffusion.activation-energy"});
    all.flag("myoglobin", {"muscle." + muscle + ".myoglobin"});
    all.flag("ph", {"muscle." + muscle + ".ph"});
    all.flag("fibre-ratio", {"diffusion.fibre-ratio"});
    if (values.get("thickness-sd")) {
        all.flag("thickness-sd", {"uncertainty.thickness"});
    }
    if (const auto kelvin = values.get("cooler-sd")) { // a difference, as the record's unit is one
        all.put("uncertainty.cooler",
                {base::significant(*kelvin, 6) + " K", options.find("cooler-sd")->where});
    }
    taste(all, options, values, records);
    all.flag("threshold", {"colour.threshold.base"});
    if (const Given* threshold = options.find("threshold")) {
        all.put("colour.threshold.slope", {"0 g/kg", threshold->where});
        all.put("colour.eye", {"0", threshold->where});
    }
    all.flag("ascorbate-spread", {"kinetics.ascorbate-spread"});
    all.flag("salt-slope", {"diffusion.salt-slope"});
    all.flag("brine-loss", {"kinetics.brine-loss", "kinetics.brine-loss-ascorbate"});
    if (const Given* loss = options.find("loss")) {
        if (loss->text != "none") {
            const auto value = base::parse_either(loss->text, duration, rate, loss->where);
            if (value.dimension == rate) {
                check(*loss, value.si, rate, "1e-6 1/d", "100 1/d", slip);
            } else {
                check(*loss, value.si, duration, "1 min", "1000000 d", slip);
            }
        }
        all.put("loss", *loss);
    }
    all.set();
    return all.list();
}

} // namespace

std::vector<cure::Case::Override> numbers_set(const Options& options,
                                              const base::Records& records) {
    Overrides all(options, records);
    all.set();
    return all.list();
}

Asked case_from_options(const Options& options, base::Records& records) {
    const Values values(options);
    Asked asked;
    cure::Case& question = asked.question;
    question.piece = piece(options, values, records, asked.warnings);
    question.brine = brine_from_options(options, records, asked.warnings);
    question.temperature = values.get("cooler", question.temperature);
    question.law = values.name("law", materials::code_names(records), question.law);
    question.product =
        values.name("product", materials::product_classes(records), question.product);
    question.rind = options.on("rind");
    question.at = values.get("at");
    question.horizon = values.get("horizon", question.horizon);
    question.cells = values.count("cells", static_cast<int>(question.cells));
    question.overrides = overrides(options, values, records, question.piece.muscle);
    return asked;
}

} // namespace tidemark::cli
