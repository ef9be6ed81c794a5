// SPDX-License-Identifier: MIT
#include "cli/slice_from_options.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "cli/values.hpp"
#include "materials/brine.hpp"

#include <algorithm>
#include <string>

namespace tidemark::cli {
namespace {

using base::InputError;

constexpr const char* sides[] = {"ring-top", "ring-bottom", "ring-left", "ring-right"};
constexpr const char* readings[] = {"ring",       "ring-top", "ring-bottom", "ring-left",
                                    "ring-right", "grey",     "grey-width",  "pink-through"};

} // namespace

bool slice_given(const Options& options) {
    return std::ranges::any_of(readings, [&](const char* flag) { return options.find(flag); });
}

inference::Slice slice_from_options(const Options& options) {
    if (!options.find("day")) {
        throw InputError("--day", "", "is missing", "say on which day it was cut: --day \"7 d\"");
    }
    if (!slice_given(options)) {
        throw InputError("--ring", "", "is missing",
                         "say what the slice showed: --ring, --grey or --pink-through");
    }
    const Values values(options);
    inference::Slice slice;
    slice.time = *values.get("day");
    slice.through = options.on("pink-through");
    for (const char* flag : readings) {
        const Given* given = options.find(flag);
        if (slice.through && given && flag != std::string("pink-through")) {
            throw InputError(given->where, given->text, "does not go with --pink-through",
                             "a slice without grey has no ring: keep one of the two");
        }
    }
    slice.every = values.get("ring");
    for (const char* flag : sides) {
        const Given* given = options.find(flag);
        if (slice.every && given) {
            throw InputError(given->where, given->text, "does not go with --ring",
                             "give --ring for all faces, or each face by itself");
        }
    }
    slice.top = values.get("ring-top");
    slice.bottom = values.get("ring-bottom");
    slice.left = values.get("ring-left");
    slice.right = values.get("ring-right");
    slice.core_height = values.get("grey");
    slice.core_width = values.get("grey-width");
    return slice;
}

inference::Findings findings_from_options(const Options& options, base::Records& records) {
    const Values values(options);
    inference::Findings found;
    for (const inference::Look look : inference::looks) {
        found[static_cast<std::size_t>(look)] = values.get(("found-" + text_of(look).name).c_str());
    }
    if (const auto degrees = values.get("found-salometer")) {
        auto& salt = found[static_cast<std::size_t>(inference::Look::brine_salt)];
        if (salt) {
            const Given& given = *options.find("found-salometer");
            throw InputError(given.where, given.text, "does not go with --found-brine-salt",
                             "keep one of the two");
        }
        salt = materials::salt_of_salometer(records, *degrees);
    }
    return found;
}

void check_slice(const Options& options, const inference::Slice& slice, double thickness) {
    const auto refuse = [&](const char* flag, const std::string& rule) {
        const Given& given = *options.find(flag);
        throw InputError(given.where, given.text, rule, "lay the ruler to the slice again");
    };
    const std::string thick = "a piece " + base::show_length(thickness) + " thick";
    if (slice.core_height.value_or(0) > thickness)
        refuse("grey", "is more than " + thick);
    if (slice.every.value_or(0) > thickness / 2)
        refuse("ring", "is more than half of " + thick);
    const double slack = 1.25 * thickness; // a ruler, and a slice that is not the thickest place
    const double top = slice.top.value_or(slice.every.value_or(0)),
                 bottom = slice.bottom.value_or(slice.every.value_or(0));
    const double sum = top + bottom + slice.core_height.value_or(0);
    if (sum > slack)
        refuse(slice.core_height ? "grey"
               : slice.top       ? "ring-top"
                                 : "ring-bottom",
               "with the rings makes " + base::show_length(sum) + ", more than " + thick);
    if (slice.core_height && slice.every && sum < thickness / 1.25)
        refuse("grey", "with the rings makes " + base::show_length(sum) + ", less than " + thick);
}

} // namespace tidemark::cli
