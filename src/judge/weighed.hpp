// SPDX-License-Identifier: MIT
/// A cure as the law and the rules of safety see it: what was weighed, how warm, how long. Plain
/// numbers; nothing here knows a mesh, a model or a result.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace tidemark::judge {

/// What one method brings into the meat, on the basis the code has for it [kg per kg].
struct Dose {
    std::string method; ///< "immersion", "pumped", "dry"
    double nitrite = 0, nitrate = 0, erythorbate = 0;
    double low = 1, high = 1; ///< factors by which spoons may have missed the nitrite
};

/// The premix on the scale, and what its nitrite is counted over.
struct Scale {
    double mass = 0;       ///< premix [kg]
    double nitrite = 0;    ///< sodium nitrite in it [1]
    double nitrate = 0;    ///< sodium nitrate in it [1]
    double salt_added = 0; ///< salt besides the premix's own [kg]
    /// Ingoing nitrite is share * nitrite * mass / (others + mass); others of 0 is not known.
    double others = 0, share = 1;
};

/// A time at one temperature.
struct Period {
    std::string where;           ///< heads the message: "cooler", "--stage 2"
    double temperature = 0;      ///< [K]
    std::optional<double> lasts; ///< [s], once it is known
};

/// A brine that was heated, with all its ice and cold water in it.
struct Chilled {
    double temperature = 0; ///< [K]
    bool told = true;       ///< how hot it was; else it is taken as boiling
};

struct Weighed {
    std::string law = "us", product = "cured";
    bool rind = false;              ///< the rind is on
    std::vector<Dose> doses;        ///< one for each method used
    bool brine = false;             ///< some of it is a brine, and nitrate in one is a mistake
    bool amount_known = true;       ///< of the brine; else it is judged as very much
    bool meat_known = true;         ///< the weight of the meat
    double brine_nitrite = 0;       ///< in the brine itself [kg/kg]
    double brine_nitrate = 0;       ///< the same of sodium nitrate
    bool nitrite = true;            ///< there is nitrite in the cure
    std::optional<Scale> scale;     ///< the premix, if it was weighed
    std::optional<Chilled> chilled; ///< a brine that was heated
    std::vector<Period> periods;    ///< the cooler, and stages with a temperature of their own
    double above_limit = 0;         ///< longest time of a cooler's log above the limit on end [s]
};

} // namespace tidemark::judge
