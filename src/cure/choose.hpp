// SPDX-License-Identifier: MIT
/// The methods of curing side by side on one cut: brine, needles, rub, bag. Each is run as
/// a schedule of its own, from the piece to the day it is ready. Times in seconds.
#pragma once

#include "cure/outcome.hpp"
#include "cure/pickle.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

struct ChooseQuestion {
    Case base; ///< the piece and the cooler; its brine, if it has one, is for immersion
    bool own_brine = false; ///< the brine is the cook's; otherwise it is made to balance at the aim
    double salt = 0.021;    ///< mean salt aimed at [kg per kg cured meat]; see usual_salt()
    /// Ingoing nitrite aimed at [kg per kg raw meat]; 0: none. Not given: usual_nitrite, or the
    /// limit of the law for each way where that is lower.
    std::optional<double> nitrite;
    static constexpr double usual_nitrite = 150e-6; // common practice, no source
    Pump pump{0.10, {}, {}};                        ///< the needles
    /// Unevenness of the salt to rest to, (largest - smallest) / mean [1]; none: no rest.
    std::optional<double> even;
    bool limits = true;               ///< look for the greatest thickness too
    std::optional<double> within;     ///< [s] from the start to when it must be ready
    std::vector<std::string> without; ///< what the cook cannot or will not use, of all_means()
};

/// "brine", "brine on all faces", "weaker brine", "stronger brine", "needles", ...
const std::vector<std::string>& method_names();

struct Method {
    std::string name;     ///< one of method_names()
    std::string made;     ///< what is made up, in one line
    std::string schedule; ///< the same as flags of `plan`
    Outcome result;
    std::optional<double> pull;   ///< [s] earliest end of the cure
    std::optional<double> latest; ///< [s] last good end of the cure
    std::optional<double> ready;  ///< [s] rested too
    std::string ruled_out;        ///< the reason; empty: it can be done
};

struct Choice {
    ChooseQuestion question;
    std::vector<Method> methods;
    /// Thickness [m] above which immersion in this brine cannot do it, all else in proportion, and
    /// why.
    std::optional<double> thickest;
    std::string thickest_reason;
    /// Where there is none: how far was looked, and why no further.
    struct Tried {
        double thickness = 0; ///< [m]
        bool cures = false;   ///< immersion can do it so far
        bool asked = true;    ///< as far as was to be; otherwise no such piece can be drawn beyond
    };
    std::optional<Tried> tried;
    double thiele_thickness = 0; ///< [m] at which the Thiele modulus of the half-thickness is 2
    judge::Findings findings;    ///< of the question; each method has its own
};

/// The findings of the question and of all methods, each told once, headed by the methods it holds
/// for unless it holds for all.
judge::Findings all_findings(const Choice& choice);
/// Of them those of one way (none: of no way alone), what holds for all, and all dangers.
judge::Findings findings_of(const Choice& choice, const std::optional<std::size_t>& way);

/// Each piece cut in two, half as thick and all else as told, in the brine as it is; none where
/// halves are not of the same shape, or the cook does without. For where no way as told will do.
std::optional<Method> cut_in_two(const Choice& choice, const base::Records& records);

/// Runs all methods but that of cut_in_two(). Throws base::InputError for what the cook wrote.
Choice choose(const ChooseQuestion& question, const base::Records& records,
              const Progress& progress = {});

} // namespace tidemark::cure
