// SPDX-License-Identifier: MIT
#include "cure/setup.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "materials/diffusion.hpp"
#include "materials/kinetics.hpp"
#include "materials/meat.hpp"
#include "materials/solutes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::cure {

namespace {

bool sealed(const Piece& piece, const std::string& face) {
    const auto& s = piece.dimensions.sealed;
    return std::find(s.begin(), s.end(), face) != s.end();
}

/// Of which the cells have no ends: a sheet's are far away, a ball has none.
bool sheet_or_ball(const Piece& piece) {
    return piece.shape == "sheet" || piece.shape == "ball";
}

/// First-order loss [1/s]: the model's, or what the cook set with --loss.
double loss_of(const Case& question, base::Records& records) {
    for (const auto& o : question.overrides)
        if (o.key == "loss") {
            if (base::trim(o.text) == "none")
                return 0;
            const base::Quantity q = base::parse_either(o.text, base::Dimension::duration,
                                                        base::Dimension::rate, o.where);
            if (!(q.si > 0))
                throw base::InputError(
                    o.where, o.text, "must be above zero",
                    "write a half-life such as 8 d, a rate such as 0.09 1/d, or none");
            return q.dimension == base::Dimension::rate ? q.si : std::numbers::ln2 / q.si;
        }
    return materials::loss_rate(records, question.temperature,
                                materials::ph(records, question.piece.muscle),
                                question.brine.ascorbate);
}

void make_tissues(const Case& question, base::Records& records, Setup& s) {
    const Piece& piece = question.piece;
    const double T = question.temperature, loss = loss_of(question, records);
    const std::string cut =
        piece.cut.empty() ? materials::default_cut(records, piece.muscle) : piece.cut;
    const materials::Composition parts = materials::composition(records, cut);
    const double handling =
        piece.frozen ? materials::handling_factor(records, "frozen-thawed") : 1.0;

    const auto make = [&](const materials::Composition& c, double omega, const std::string& tissue,
                          double factor) {
        Tissue t;
        t.density = materials::density(records, c);
        t.water_fraction = omega / t.density;
        t.salt.water = t.nitrite.water = omega;
        t.salt.diffusivity = factor * materials::salt_diffusivity(records, tissue, T);
        t.nitrite.diffusivity = factor * materials::nitrite_diffusivity(records, tissue, T);
        t.nitrite.loss = loss;
        return t;
    };
    Tissue lean = make(parts, materials::omega(records, parts) * (1 - piece.marbling), piece.muscle,
                       handling * materials::maxwell_diffusivity(piece.marbling));
    if (piece.fibre_angle) {
        lean.salt.ratio = lean.nitrite.ratio = materials::fibre_ratio(records);
        lean.salt.angle = lean.nitrite.angle = *piece.fibre_angle;
    } else if (!sheet_or_ball(piece)) {
        lean.salt.along = lean.nitrite.along = materials::fibre_ratio(records);
    }
    s.tissues["lean"] = lean;
    s.salt_slope = materials::salt_slope(records);
    const bool loss_set = std::ranges::count(question.overrides, "loss", &Case::Override::key) > 0;
    if (question.brine.ascorbate && loss > 0 && !loss_set) {
        const double bare =
            materials::loss_rate(records, T, materials::ph(records, piece.muscle), false);
        s.bare_loss = 1 - materials::ascorbate_spread(records) * (1 - bare / loss);
    }
}

void make_fat(const Case& question, base::Records& records, Setup& s) {
    const materials::Composition parts = materials::composition(records, "pork-backfat");
    Tissue fat;
    fat.density = materials::density(records, parts);
    const double omega = materials::adipose_omega(records);
    fat.water_fraction = omega / fat.density;
    fat.salt.water = fat.nitrite.water = omega;
    fat.salt.diffusivity = materials::salt_diffusivity(records, "adipose", question.temperature);
    fat.nitrite.diffusivity =
        materials::nitrite_diffusivity(records, "adipose", question.temperature);
    fat.nitrite.loss = s.tissues.at("lean").nitrite.loss; // as in lean: the later, safer day
    s.tissues["fat"] = fat;
}

/// Cells and the volume of meat that goes with one unit of them [m3 per m2, per m or whole].
void make_shape(const Case& question, base::Records& records, Setup& s) {
    const Piece& piece = question.piece;
    geometry::Dimensions d = piece.dimensions;
    const std::string& shape = piece.shape;
    const bool plain = d.fat_cap == 0 && d.bones.value_or(0) == 0 && d.sealed.empty() &&
                       !piece.fibre_angle && (d.width == 0 || d.width == d.thickness);
    if (shape != "outline" && !(d.thickness > 0))
        throw base::InputError("--thickness", "", "the thickness is not given",
                               "measure the thickest place and add --thickness \"65 mm\"");
    s.half_thickness = d.thickness / 2;
    if (shape == "sheet") {
        if (d.bones > 0)
            throw base::InputError("--bones", std::to_string(*d.bones),
                                   "a sheet has no room for bones",
                                   "use --shape block or --shape loin");
        if (sealed(piece, "left") || sealed(piece, "right"))
            throw base::InputError("--seal", "left, right", "a sheet has only a top and a bottom",
                                   "seal top or bottom, or use --shape block");
        if (piece.fibre_angle)
            throw base::InputError("--fibre-angle", "",
                                   "a sheet is solved along its thickness only",
                                   "use --shape block");
        if (d.fat_cap >= d.thickness)
            throw base::InputError(
                "--fat-cap", base::show_length(d.fat_cap),
                "leaves no lean in a piece of " + base::show_length(d.thickness),
                "give the fat's own thickness; the thickness is lean and fat together");
        s.wet_first = !sealed(piece, "bottom");
        s.wet_last = !sealed(piece, "top");
        if (!s.wet_first && !s.wet_last)
            throw base::InputError("--seal", "top, bottom",
                                   "leaves no wet face, so nothing can enter",
                                   "leave one face wet");
        s.layers = {{"lean", d.thickness - d.fat_cap}};
        if (d.fat_cap > 0)
            s.layers.push_back({"fat", d.fat_cap});
    } else if (shape == "ball" || (shape == "round" && plain)) {
        if (!plain)
            throw base::InputError("--shape", "ball",
                                   "a ball is solved from its centre out: no fat cap, "
                                   "bones, sealed faces, fibre angle or second width",
                                   "use --shape round or --shape ham");
        s.power = shape == "ball" ? 2 : 1;
        s.layers = {{"lean", d.thickness / 2}};
    } else if (shape == "round") {
        s.section = geometry::disc(d, "--shape");
    } else if (shape == "block") {
        s.section = geometry::block(d, "--shape");
    } else if (shape == "loin") {
        s.section = geometry::loin(d, "--shape");
    } else if (shape == "ham") {
        s.section = geometry::ham(d, "--shape");
    } else if (shape == "outline") {
        if (piece.outline_file.empty())
            throw base::InputError("--outline", "", "no file is named", "add --outline cut.csv");
        s.section = geometry::outline_from_csv(
            base::read_text(piece.outline_file, "--outline", geometry::longest_outline),
            piece.outline_file, d.faces, d.sealed);
        s.half_thickness = s.section->thickness / 2;
    } else {
        const std::string near = base::nearest(shape, shape_names());
        throw base::InputError("--shape", shape, "is not a shape",
                               near.empty() ? "use one of sheet, round, ball, block, loin, ham"
                                            : "did you mean " + near + "?");
    }

    const bool fat = (s.section && geometry::areas(*s.section).fat > 0) || d.fat_cap > 0;
    if (fat)
        make_fat(question, records, s);
}

/// How much meat one unit of the cells is, and how many units a piece has.
void make_size(const Case& question, base::Records& records, Setup& s) {
    const Piece& piece = question.piece;
    const auto density = [&](const char* kind) {
        return s.tissues.contains(kind) ? s.tissues.at(kind).density : 0.0;
    };
    double unit = 0; // mass of meat in one unit of the cells
    if (s.section) {
        const geometry::Areas a = geometry::areas(*s.section);
        unit = density("lean") * a.lean + density("fat") * a.fat;
        if (a.bone > 0)
            unit += records.si("bone.density") * a.bone;
    } else {
        double inner = 0;
        for (const auto& l : s.layers) {
            const double outer = inner + l.thickness;
            const auto volume = [&](double r) {
                return s.power == 0   ? r
                       : s.power == 1 ? std::numbers::pi * r * r
                                      : 4.0 / 3 * std::numbers::pi * r * r * r;
            };
            unit += density(l.kind.c_str()) * (volume(outer) - volume(inner));
            inner = outer;
        }
    }
    s.weight = piece.weight;
    s.length = piece.length;
    s.unit_mass = unit;
    double& units = s.units; // its length, its face, or the ball itself
    const bool ball = !s.section && s.power == 2, sheet = !s.section && s.power == 0;
    if (ball) {
        if (s.weight > 0 && std::abs(s.weight / unit - 1) > 0.25)
            throw base::InputError("--weight", base::show_mass(s.weight),
                                   "a ball of this thickness weighs " + base::show_mass(unit),
                                   "leave --weight out, or correct the thickness");
        s.weight = unit;
    } else if (s.weight > 0) {
        units = s.weight / unit;
        if (!sheet && s.length == 0)
            s.length = units;
        if (!sheet && std::abs(s.length / units - 1) > 0.25)
            throw base::InputError("--weight", base::show_mass(s.weight),
                                   "a piece of this section and length weighs " +
                                       base::show_mass(unit * s.length),
                                   "leave one of --weight and --length out");
    } else if (s.length > 0) {
        if (sheet && piece.dimensions.width == 0)
            throw base::InputError("--length", base::show_length(s.length),
                                   "a sheet needs its width too, to know its face",
                                   "add --width, or give --weight instead");
        units = sheet ? s.length * piece.dimensions.width : s.length;
        s.weight = units * unit;
    }
    s.shut_ends = piece.shut_ends;
    if (s.follows_salt() && !sheet && !ball)
        s.shut_ends = 2; // its section is followed alone
    if (sheet || ball) {
        if (s.shut_ends > 0)
            throw base::InputError("--seal", s.shut_ends > 1 ? "ends" : "end",
                                   sheet
                                       ? "a sheet is taken to be so wide that its ends do not count"
                                       : "a ball has no ends",
                                   "leave it out, or use --shape block or --shape round");
    } else if (s.length > 0) {
        s.whole = true;
        s.unit_mass *= s.length;
        units /= s.length;
    }
}

} // namespace

Setup make_piece(const Case& question, base::Records& records) {
    for (const auto& o : question.overrides)
        if (o.key != "loss")
            records.set(o.key, o.text, o.where);
    Setup s;
    s.tolerance = question.tolerance;
    make_tissues(question, records, s);
    make_shape(question, records, s);
    make_size(question, records, s);
    return s;
}

void put_in_brine(const Case& question, base::Records& records, Setup& s) {
    s.pickle = make_pickle(question.brine, question.temperature, records);
    const double brine = s.pickle.mass / question.piece.pieces / s.units; // per unit of the cells
    const auto bath = [&](const std::string& solute, double strength) {
        transport::Bath b;
        b.water = brine * s.pickle.water;
        b.concentration = strength / s.pickle.water;
        b.partition = materials::partition(records, solute);
        b.water_density = s.pickle.density * s.pickle.water;
        if (question.brine.film)
            b.film = *question.brine.film;
        return b;
    };
    s.salt_bath = bath("salt", s.pickle.salt);
    s.nitrite_bath = bath("nitrite", s.pickle.nitrite);
    s.salt_with_ascorbate = s.salt_bath.partition * s.salt_bath.concentration;
    if (s.pickle.nitrite > 0)
        s.nitrite_bath.loss =
            materials::brine_loss_rate(records, question.temperature, question.brine.ascorbate);
}

Setup make_setup(const Case& question, base::Records& records) {
    Setup s = make_piece(question, records);
    put_in_brine(question, records, s);
    check_shared_out(s.pickle.mass, s.weight, "--brine");
    return s;
}

double fat_mass(const Setup& s) {
    const auto fat = s.tissues.find("fat");
    if (fat == s.tissues.end())
        return 0;
    if (s.section)
        return (s.whole ? s.length : 1) * fat->second.density * geometry::areas(*s.section).fat;
    double thick = 0; // a sheet's cap is the only fat a line can have
    for (const geometry::Layer& l : s.layers)
        if (l.kind == "fat")
            thick += l.thickness;
    return fat->second.density * thick;
}

double lean_mass(const Setup& s) {
    const double along = s.whole ? s.length : 1;
    return s.section ? along * s.tissues.at("lean").density * geometry::areas(*s.section).lean
                     : s.unit_mass - fat_mass(s);
}

void check_shared_out(double liquid, double meat, const std::string& where) {
    if (std::isfinite(liquid) && !(meat > 0))
        throw base::InputError(where, base::show_mass(liquid),
                               "cannot be shared out without knowing how much meat is in it",
                               "add --weight \"2.5 kg\" (of one piece)");
}

} // namespace tidemark::cure
