// SPDX-License-Identifier: MIT
/// What a thermometer in the cooler wrote down, and what it does to the speed of a cure.
/// Assumes that the meat follows the reading at once and that the temperature runs straight between
/// readings. Not for a probe that was out of the cooler.
#pragma once

#include "transport/stepper.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

/// Readings in order of time: at least two, each later than the one before. Before the first
/// reading its temperature is taken, after the last one that.
struct CoolerLog {
    std::vector<double> time;         ///< [s] from the first reading, or from `start`
    std::vector<double> temperature;  ///< [K]
    std::vector<std::string> remarks; ///< what was bridged or put right, with file and line
    std::optional<std::chrono::local_seconds> start; ///< date of time 0, where dates are given

    double last() const { return time.back(); } ///< the last reading's time [s]
    double at(double t) const;                  ///< the temperature [K] at `t` [s]
    double mean() const;                        ///< over time, from first to last reading [K]
    /// The same log with its time counted from a date. One without dates begins then.
    CoolerLog since(std::chrono::local_seconds date) const;
    /// What it says from one time to a later one [s], and no more.
    CoolerLog between(double from, double to) const;
    /// The longest stretch above a temperature [K] within the log [s].
    double longest_above(double limit) const;
    /// Remarks [text] that the first temperature is held before it from `from` [s] on, and the last
    /// after it up to `until` [s]; none where the log covers it.
    std::vector<std::string> beyond(double from, double until) const;
};

/// Reads a log from CSV text whose first line is "time,temperature [C]", with F or K for C, and
/// `hours` or `days` (numbers) for `time` (dates as of base::parse_moment). Semicolons or tabs in
/// the first line part the rows too; decimals may then be written with commas. No quoting; empty
/// lines and lines from # are passed over.
///
/// A stretch without readings above three times the usual interval, and above 6 h, is bridged with
/// a remark; above 48 h it is refused. Where dated readings come at least every hour, one step that
/// is an hour short of the usual interval and so goes back, or an hour too long, is taken for a
/// change of the clock if it falls in the small hours of a Sunday of the months that have them,
/// with a remark. Of a slower log such an hour cannot be told and stays in; any other step back is
/// refused. Valid from -5 to 20 C. Throws InputError headed by FILE:LINE.
CoolerLog cooler_log_from_csv(const std::string& text, const std::string& file_name);

/// The time a cure at `reference_temperature` [K] would take for what it does in the log [s]: the
/// integrals of exp(E/R (1/T_ref - 1/T)) with the activation energies [J/mol] of diffusion and
/// loss. Three Gauss points to each stretch between readings: within 1e-6 for stretches that change
/// by 10 K at 60 kJ/mol. The clock needs the log no longer.
transport::Clock clock(const CoolerLog& log, double reference_temperature, double diffusion_energy,
                       double loss_energy);

} // namespace tidemark::cure
