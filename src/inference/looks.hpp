// SPDX-License-Identifier: MIT
/// Looks a cook can take besides the ring, when the slice lies on the board: ruler, thermometer, pH
/// paper, the brine that is left. They part causes which leave the same ring.
#pragma once

#include "base/record.hpp"

#include <array>
#include <optional>
#include <string>

namespace tidemark::inference {

enum class Look { thickness, cooler, brine_salt, brine_nitrite, core_salt, ph, mean_salt };
constexpr std::size_t look_count = 7;
constexpr std::array<Look, look_count> looks{Look::thickness,     Look::cooler,    Look::brine_salt,
                                             Look::brine_nitrite, Look::core_salt, Look::ph,
                                             Look::mean_salt};
/// Whether it is salt of the meat, which tells of the salt's own pace.
constexpr bool is_salt_of_meat(Look look) {
    return look == Look::core_salt || look == Look::mean_salt;
}

/// What each look found; none where it was not taken. Thickness [m] measured again, cooler [K],
/// salt and nitrite of the brine that is left [kg per kg brine], salt of the core [kg per kg cured
/// lean], pH of the core [1], salt of the whole slice's lean [kg per kg cured lean].
using Findings = std::array<std::optional<double>, look_count>;

/// Whether any such was taken.
bool salt_measured(const Findings& found);

/// A look as a cook takes it.
struct LookText {
    std::string name; ///< "brine-salt", as in --found-brine-salt
    std::string how;  ///< "float a salometer in the brine that is left"
    std::string flag; ///< for what it reads: "--found-salometer"
};
const LookText& text_of(Look look);

/// How far each look may be off: standard deviation, of the logarithm for what is left of the
/// brine.
class LookErrors {
public:
    explicit LookErrors(const base::Records& records);
    /// Log of the likelihood of what was found where a draw shows `shown`, a share `slips` of
    /// readings being off ten times as far [log of 1/unit].
    double log_likelihood(Look look, double found, double shown, double slips) const;
    /// What is read where `shown` is true, off by so many standard deviations.
    double read(Look look, double shown, double deviations) const;

private:
    std::array<double, look_count> deviation_;
};

} // namespace tidemark::inference
