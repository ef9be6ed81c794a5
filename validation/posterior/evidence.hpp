// SPDX-License-Identifier: MIT
/// Published figures as files: validation/SOURCE/evidence.ini. [source] says what was measured,
/// what the print does not state and what is assumed; [case] is the piece and brine the engine is
/// asked of; [unsure] how far what was not stated may be off, one standard deviation; every other
/// section is a figure of a kind (README.md lists them), with its value, the standard deviation of
/// its logarithm, and what of the case differs for it.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace tidemark::posterior {

using Words = std::map<std::string, std::string>;

struct Figure {
    std::string name, kind;
    double value = 0;      ///< as printed, in the unit of its kind
    double sd = 0;         ///< of its logarithm, or of itself for the kind "slope"
    Words of;              ///< the case it was seen in
    bool compared = false; ///< shown beside the prediction, not weighed
};

struct Evidence {
    std::string folder, title, mark;
    bool rules = false; ///< rules of the trade
    std::map<std::string, double> unsure;
    std::vector<Figure> figures;
};

/// Every folder below `validation` that has evidence, in alphabetical order. Throws
/// base::InputError, with file and line, for what cannot be read.
std::vector<Evidence> read_evidence(const std::string& validation);

/// A section of priors.ini as numbers and words.
std::map<std::string, Words> read_words(const std::string& path);

} // namespace tidemark::posterior
