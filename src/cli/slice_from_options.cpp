// SPDX-License-Identifier: MIT
#include "cli/slice_from_options.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "cli/values.hpp"
#include "cure/setup.hpp"
#include "materials/brine.hpp"

#include <algorithm>
#include <string>

namespace tidemark::cli {
namespace {

using base::InputError;

constexpr const char* sides[] = {"ring-top", "ring-bottom", "ring-left", "ring-right"};
constexpr const char* readings[] = {"ring",       "ring-top", "ring-bottom", "ring-left",
                                    "ring-right", "grey",     "grey-width",  "pink-through"};

void check_slice(const Options& options, const inference::Slice& slice, double thickness) {
    // Deeper rings than a piece so thick can have tell of a thicker one, up to what no ruler
    // misses.
    constexpr double most = 1.4, least = 0.8;
    const auto refuse = [&](const char* flag, const std::string& rule) {
        const Given& given = *options.find(flag);
        throw InputError(given.where, given.text, rule,
                         "lay the ruler to the slice again, or give --found-thickness");
    };
    const std::string thick = "a piece " + base::show_length(thickness) + " thick";
    const double top = slice.top.value_or(slice.every.value_or(0)),
                 bottom = slice.bottom.value_or(slice.every.value_or(0)),
                 core = slice.core_height.value_or(0), sum = top + bottom + core;
    if (sum > most * thickness)
        refuse(core > 0       ? "grey"
               : slice.every  ? "ring"
               : top > bottom ? "ring-top"
                              : "ring-bottom",
               (top + bottom > 0 ? core > 0
                                       ? "with the rings makes " + base::show_length(sum)
                                       : "makes rings of " + base::show_length(sum) + " together"
                                 : "is " + base::show_length(sum)) +
                   ", far more than " + thick);
    if (core > 0 && slice.every && sum < least * thickness)
        refuse("grey", "with the rings makes " + base::show_length(sum) + ", less than " + thick);
}

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

inference::Slice slice_of(const Options& options, const cure::Case& piece, base::Records& records) {
    inference::Slice slice = slice_from_options(options);
    slice.found = findings_from_options(options, records);
    base::Records own = records;
    const auto again = slice.found[static_cast<std::size_t>(inference::Look::thickness)];
    check_slice(options, slice, again ? *again : 2 * cure::make_piece(piece, own).half_thickness);
    return slice;
}

} // namespace tidemark::cli
