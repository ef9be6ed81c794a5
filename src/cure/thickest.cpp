// SPDX-License-Identifier: MIT
#include "cure/thickest.hpp"

#include "base/error.hpp"
#include "base/text.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {
namespace {

std::string days(double seconds) {
    return base::significant(seconds / 86400, 2) + " days";
}

/// Whether a piece `scale` times as thick, all else in proportion, has a day to pull it on; none
/// where no such piece can be drawn. `reason` is told if it has not, and else left alone.
std::optional<bool> cures(const ChooseQuestion& q, double scale, const base::Records& records,
                          std::string& reason) try {
    Case c = q.base;
    geometry::Dimensions& d = c.piece.dimensions;
    for (double geometry::Dimensions::*m :
         {&geometry::Dimensions::thickness, &geometry::Dimensions::width,
          &geometry::Dimensions::fat_cap, &geometry::Dimensions::bone_diameter,
          &geometry::Dimensions::bone_depth})
        d.*m *= scale;
    const bool ends = c.piece.shape != "sheet";
    c.piece.length *= ends ? scale : 0;
    c.cells = std::min(c.cells, 16.0);
    if (c.piece.weight > 0) { // the same share of brine, whatever the size
        c.piece.weight *= scale * scale * (ends ? scale : 1);
        if (c.brine.mass)
            *c.brine.mass *= c.piece.weight / q.base.piece.weight;
        if (c.brine.volume)
            *c.brine.volume *= c.piece.weight / q.base.piece.weight;
        for (auto* part : {&c.brine.water, &c.brine.ice, &c.brine.cold_water, &c.brine.salt_added,
                           &c.brine.sugar, &c.brine.premix, &c.brine.erythorbate})
            if (*part)
                **part *= c.piece.weight / q.base.piece.weight;
    }
    const Outcome o = run(in_brine(c), records);
    const PieceOutcome& p = o.first();
    const std::string late = p.last_good && p.salted && *p.last_good < *p.salted
                                 ? "the whole tastes cured only after " + p.last_good_reason
                                 : "";
    if (!p.cured)
        reason = "the core is not cured in " + days(c.horizon) +
                 (p.thiele >= 2 ? ", since nitrite is used up on its way in" : "");
    else if (p.last_good && *p.last_good < *p.cured)
        reason = "the core is cured only after " + p.last_good_reason;
    else if (!p.salted)
        reason = "the whole never tastes cured";
    else if (!late.empty())
        reason = late;
    return p.cured && p.salted && !(p.last_good && *p.last_good < std::max(*p.cured, *p.salted));
} catch (const base::InputError&) { // of the shape, for the piece itself has been drawn
    return std::nullopt;
} catch (const base::RunError&) { // of its cells
    return std::nullopt;
}

} // namespace

void find_thickest(Choice& c, const base::Records& records, const Setup& piece) {
    const transport::Medium& m = piece.tissues.at("lean").nitrite;
    if (m.loss > 0)
        c.thiele_thickness = 4 * std::sqrt(m.diffusivity / m.loss);
    if (c.question.base.piece.shape == "outline")
        return; // a drawn section is not scaled
    // From the piece itself, to where the answer turns or the shape goes no further.
    constexpr double farthest = 4, close = 1.02; // ratios
    std::string reason;                          // of the last that did not cure
    const auto at = [&](double scale) { return cures(c.question, scale, records, reason); };
    const std::optional<bool> here = at(1);
    if (!here)
        return;
    double same = 1, other = *here ? farthest : 1 / farthest;
    std::optional<bool> there = at(other);
    if (there == here)
        same = other;
    while (std::max(same / other, other / same) > close) {
        const double middle = std::sqrt(same * other);
        const std::optional<bool> found = at(middle);
        (found == here ? same : other) = middle;
        if (found != here)
            there = found;
    }
    const double thickness = 2 * piece.half_thickness;
    if (there && there != here)
        c.thickest = (*here ? same : other) * thickness;
    else
        c.tried = Choice::Tried{same * thickness, *here, there.has_value()};
    if (c.thickest || !*here)
        c.thickest_reason = reason;
}

} // namespace tidemark::cure
