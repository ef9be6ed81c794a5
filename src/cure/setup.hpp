// SPDX-License-Identifier: MIT
/// From the cook's words to coefficients: tissues, bath and cells of a case.
/// This is the one place where a region label meets a material.
#pragma once

#include "base/record.hpp"
#include "cure/case.hpp"
#include "cure/pickle.hpp"
#include "geometry/mesh.hpp"
#include "transport/stepper.hpp"
#include "transport/system.hpp"

#include <limits>
#include <map>
#include <optional>
#include <string>

namespace tidemark::cure {

/// One tissue with both solutes.
struct Tissue {
    double density = 0;        ///< raw [kg/m3]
    double water_fraction = 0; ///< [kg water per kg raw tissue], with what needles put in
    /// Brine put in by needles, less its solutes, less the water that drips off in a dry cure [kg
    /// per kg raw tissue].
    double gain = 0;
    transport::Medium salt, nitrite;

    /// Salt of the cured tissue [kg per kg] at a concentration u in its water [kg per kg].
    double salt_share(double u) const {
        return u * water_fraction / (1 + gain + u * water_fraction);
    }
    /// The same turned round.
    double concentration(double share) const {
        return share / (1 - share) * (1 + gain) / water_fraction;
    }
};

/// Everything the solve needs.
struct Setup {
    std::map<std::string, Tissue> tissues; ///< "lean", "fat"
    Pickle pickle;
    transport::Bath salt_bath, nitrite_bath;
    std::optional<transport::Clock> clock; ///< of a cooler with a log
    /// Diffusivity gained by salt [kg water per kg]: D = D0 (1 + slope u). Then a stage is stepped
    /// through, and the ends of a piece are left out.
    double salt_slope = 0;
    /// The loss of nitrite where no ascorbate has come, over that where all has [1], and the salt
    /// in tissue water beside all of it [kg per kg]: the two spread alike. Stepped through as
    /// above.
    double bare_loss = 1, salt_with_ascorbate = 0;
    bool follows_salt() const { return salt_slope != 0 || bare_loss < 1; }
    std::optional<geometry::Section> section; ///< 2-D shapes
    std::vector<geometry::Layer> layers;      ///< 1-D shapes
    int power = 0;
    bool wet_first = false, wet_last = true;
    double tolerance = 1e-6;   ///< of the time integration [1]
    double half_thickness = 0; ///< [m]
    double unit_mass = 0;      ///< raw meat in one unit of the cells: per m2, per m or whole [kg]
    double units = 1;          ///< of the cells in one piece; 1 where the weight is unknown
    double weight = 0;         ///< of one piece [kg]; 0 unknown
    double length = 0;         ///< [m]; 0 unknown
    /// A unit of the cells is a piece of that length, with its ends. False: a metre of an endless
    /// one, or a square metre of a sheet, or a ball.
    bool whole = false;
    int shut_ends = 0; ///< of the two

    /// From the plane of the core to a wet end [m]; infinite where there is none.
    double to_end() const {
        return whole && shut_ends < 2 ? length / (2 - shut_ends)
                                      : std::numeric_limits<double>::infinity();
    }
};

/// Applies the case's overrides to `records`, then works out the coefficients. Throws
/// base::InputError for a case that makes no sense.
Setup make_setup(const Case& question, base::Records& records);

/// The same without a brine: tissues, cells, weight.
Setup make_piece(const Case& question, base::Records& records);
/// Puts the piece of make_piece() in the case's brine, shared out over the pieces in it.
void put_in_brine(const Case& question, base::Records& records, Setup& setup);
/// What of the meat in one unit of the cells is lean, and what is fat [kg].
double lean_mass(const Setup& setup);
double fat_mass(const Setup& setup);
/// Throws base::InputError at `where` for a known amount of liquid [kg] around meat of unknown
/// weight [kg]. It is no part of put_in_brine(), for such a brine can be judged though not solved.
void check_shared_out(double liquid, double meat, const std::string& where);

} // namespace tidemark::cure
