// SPDX-License-Identifier: MIT
/// What the law allows in cured meat, by code, product and method.
/// The law changes and local codes outrank these figures; nothing here makes a cure safe.
#pragma once

#include "base/record.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::materials {

/// One limit [kg sodium salt per kg of meat].
struct Limit {
    std::string code;    ///< "us", "eu", ...
    std::string product; ///< "cured", "bacon", "sterile", ...
    std::string method;  ///< "immersion", "pumped", "dry", "ground", "any", "residual", "finished"
    std::string substance; ///< "nitrite", "nitrate" or "erythorbate"
    double value = 0;      ///< as the sodium salt, even where the code counts the ion
    double printed = 0;    ///< [kg/kg] as the code prints it
    bool ion = false;      ///< the code counts the ion
    std::string source;
    std::string where; ///< place in the source, ending with the date
    char mark = ' ';   ///< as in base::Record
};

/// Names of the codes [text], and the products some code has limits for, "cured" first.
std::vector<std::string> code_names(const base::Records& records);
std::vector<std::string> product_classes(const base::Records& records);

/// The limit [see Limit] that what goes in of a substance is held against under a code: the
/// product's own or that of cured meat, for the method, for any, or on the finished meat. None if
/// the code has none. Throws InputError for an unknown code.
std::optional<Limit> limit_of(base::Records& records, const std::string& code,
                              const std::string& product, const std::string& method,
                              const std::string& substance);

/// Least ingoing nitrite a code asks for [kg NaNO2 per kg of meat]: in the US of meat sold to be
/// kept cold (fsis1995), in Canada to be called cured (cfia). None elsewhere.
std::optional<double> least_nitrite(base::Records& records, const std::string& code);

/// Share of a US bacon limit that is left when the rind is on [1] (fsis1995).
double rind_factor(base::Records& records);

/// Share of a US bacon level that must be there [1] (fsis1995, from memory).
double bacon_share(base::Records& records);

} // namespace tidemark::materials
