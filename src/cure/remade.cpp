// SPDX-License-Identifier: MIT
#include "cure/remade.hpp"

#include "base/quantity.hpp"
#include "base/show.hpp"
#include "base/text.hpp"
#include "cure/say.hpp"

namespace tidemark::cure {
namespace {

/// The number that a flag's text will be read as, so that the brine is what its flags say.
double read(const std::string& text, base::Dimension dimension) {
    return base::parse(text, dimension, "change");
}

double all_of(const Brine& b, const Pickle& p) {
    return b.premix.value_or(0) > 0 && p.nitrite > 0
               ? *b.premix * b.premix_strength / p.nitrite
               : b.salt_added.value_or(0) / p.salt; // without premix all salt is added salt
}

} // namespace

std::optional<Remade> remade(const Brine& brine, const Pickle& now, double salt) {
    Remade r{brine, percent(salt) + " salt in the brine", {}};
    Brine& b = r.brine;
    double share = salt; // as a cook can weigh it
    if (b.water) {
        const double all = all_of(b, now), others = all * (1 - now.salt),
                     with_premix = all * now.salt - b.salt_added.value_or(0);
        const double gram = 1e-3, step_of_scale = b.salt_added.value_or(0) > 0.2 ? 5 * gram : gram;
        const double added = base::rounded(others * salt / (1 - salt) - with_premix, step_of_scale,
                                           base::Rounding::nearest);
        if (!(added > 0))
            return {};
        share = (added + with_premix) / (added + with_premix + others);
        r.what += " (" + base::on_scales(added) + " of salt in place of " +
                  base::on_scales(
                      base::rounded(b.salt_added.value_or(0), gram, base::Rounding::nearest)) +
                  ")";
        r.flags = {{"salt", base::on_scales(added)}};
        b.salt_added = read(r.flags[0].second, base::Dimension::mass);
        b.spread.salt = 1;
    } else {
        r.flags = {{"brine-salt", base::significant(100 * salt, 4) + " %"}};
        b.salt = read(r.flags[0].second, base::Dimension::fraction);
    }
    // So much brine stays so much; of a recipe the water does.
    r.water = b.water && !b.mass && !b.volume ? 1 : (1 - share) / (1 - now.salt);
    r.salt = share / (1 - share) / (now.salt / (1 - now.salt));
    return r;
}

} // namespace tidemark::cure
