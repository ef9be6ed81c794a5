// SPDX-License-Identifier: MIT
/// The engine for other programs: a case in, an answer out. SI units, days and lengths as such;
/// nothing of this header needs another library. Assumes one piece, or equal ones, in one brine
/// without an end; for schedules, buckets and slices use the program and its --json.
///
/// Curing with nitrite can hurt people when it goes wrong. What is found dangerous is in
/// Answer::dangers: show it first, and let no number here outrank a label or the local code.
#pragma once

#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace tidemark::api {

/// What the cook describes. Zero or empty: not given, taken as the program does.
struct Case {
    std::string muscle = "pork-loin"; ///< one of muscles()
    std::string shape = "sheet";      ///< one of shapes()
    double thickness = 0;             ///< [m] where it is thickest, 0.002 to 0.6; must be given
    double width = 0;                 ///< [m] of the section
    double length = 0;                ///< [m] of the piece
    double weight = 0;                ///< [kg] of one piece, raw
    int pieces = 1;                   ///< equal ones that share the brine
    double fat_cap = 0;               ///< [m] along the top face
    int bones = 0;                    ///< ribs of a loin, the bone of a ham
    double brine_salt = 0;            ///< [kg per kg brine], 0 to 0.26; must be given
    double brine_nitrite = 0;         ///< sodium nitrite [kg per kg brine], 0 to 0.005
    double brine_mass = 0;  ///< [kg] in all; not given: so much that it keeps its strength
    double cooler = 277.15; ///< [K], 273.15 to 288.15
    std::string law = "us"; ///< us, canada, codex, eu, eu-old or uk
};

/// What a place holds [kg per kg of tissue].
struct Contents {
    double salt = 0;
    double nitrite = 0; ///< sodium nitrite that has arrived, free or reacted
};

/// The days, from the start [s].
struct Answer {
    std::optional<double> best;       ///< to take it out; none: no day suits any piece
    double chance = 0;                ///< that a piece is right on that day [1]
    std::optional<double> from, to;   ///< days on which the chance is as great as asked for
    std::optional<double> cured;      ///< when the core of a piece with typical values is cured
    std::optional<double> last_good;  ///< of that piece, before the whole is too salty
    double error = 0;                 ///< of `cured`, by the arithmetic alone
    double core_depth = 0;            ///< [m] of the last place to cure, from the nearest wet face
    double target = 0;                ///< nitrite, or without any salt, at which it is called cured
    std::vector<std::string> dangers; ///< what can hurt people or breaks the law
    std::vector<std::string> warnings; ///< what else to know
    std::vector<std::string> cautions; ///< what always holds
};

/// What was asked cannot be answered: one line that says where, the value, the rule and a remedy.
class Refused : public std::runtime_error {
public:
    Refused(const std::string& why, std::vector<std::string> found);
    std::vector<std::string> dangers; ///< found before it was refused
};

/// Something went wrong in the calculation: one line.
class Failed : public std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// A case that has been solved. Cheap to copy; safe to read from several threads.
class Cure {
public:
    /// Solves it, and counts chances over `draws` pieces (0: none) for the share `confidence` [1],
    /// 0.5 to 0.99. Throws Refused, Failed.
    explicit Cure(const Case& piece, int draws = 4096, double confidence = 0.9);

    const Answer& answer() const;
    /// The core, the mean of the lean, at a time [s] from 0 to the last one solved for, which a
    /// later one is taken as. Throws Failed for what is no number.
    Contents core(double time) const;
    Contents mean(double time) const;
    /// The whole answer as `tidemark day --json` prints it.
    std::string json() const;

private:
    struct Solved;
    std::shared_ptr<const Solved> solved_;
};

/// Names that Case::muscle and Case::shape may have.
std::vector<std::string> muscles();
std::vector<std::string> shapes();

/// "0.1.0".
std::string version();

} // namespace tidemark::api
