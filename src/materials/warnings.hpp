// SPDX-License-Identifier: MIT
/// Warnings for literature numbers used outside the range they were measured in.
/// Covers every record used so far, so ask after the numbers have been fetched.
#pragma once

#include "base/record.hpp"

#include <map>
#include <string>
#include <vector>

namespace tidemark::materials {

/// One text per used record and condition outside its range, in order of use. `conditions` holds SI
/// values under the names of the ranges: "temperature" [K], "brine salt" [kg/kg], "pH" [1],
/// "myoglobin" [kg/kg]. A name no record has a range for is passed over.
std::vector<std::string> range_warnings(const base::Records& records,
                                        const std::map<std::string, double>& conditions);

} // namespace tidemark::materials
