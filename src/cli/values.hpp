// SPDX-License-Identifier: MIT
/// Numbers, amounts and names out of the options, each within what a kitchen can see.
#pragma once

#include "base/calendar.hpp"
#include "base/quantity.hpp"
#include "base/record.hpp"
#include "cli/options.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::cli {

/// A moment of work: a date alone is its base::working_hour. Throws InputError.
std::chrono::local_seconds moment_of(const Given& given);

/// Throws InputError unless low <= value <= high, the limits being written as a cook would.
void check(const Given& given, double value, base::Dimension dimension, const char* low,
           const char* high, const char* remedy);

/// What to say where nothing better is known.
constexpr const char* slip = "check the number and its unit";

/// Reads options by the table of ranges in values.cpp. Every function throws InputError.
class Values {
public:
    explicit Values(const Options& options) : options_(options) {}

    /// The value [SI] of a flag in the table; none if it was not given.
    std::optional<double> get(const char* flag) const;
    double get(const char* flag, double otherwise) const { return get(flag).value_or(otherwise); }

    /// Holds every flag of the table against it, whether the command uses it or not.
    void check_all() const;

    /// A whole number.
    int count(const char* flag, int otherwise) const;

    /// A word out of a list; spaces in it may stand for hyphens.
    std::string name(const char* flag, const std::vector<std::string>& known,
                     const std::string& otherwise) const;
    static std::string one_of(const Given& given, const std::string& word,
                              const std::vector<std::string>& known);

    /// The muscle that a cook's name for a cut stands for.
    std::string muscle(const base::Records& records, const std::string& otherwise) const;

    /// Mass or volume.
    std::optional<base::Quantity> amount(const char* flag) const;

private:
    const Options& options_;
};

} // namespace tidemark::cli
