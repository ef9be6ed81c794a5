// SPDX-License-Identifier: MIT
/// Random problems for the properties every solve must have. Each is a function of its seed alone,
/// which the tests print with CAPTURE; all scenarios are invented, with numbers of the right size.
#pragma once

#include "transport/system.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::transport_tests {

struct Case {
    std::string what; ///< for the message
    std::optional<geometry::Mesh> mesh;
    std::optional<geometry::Line> line;
    std::vector<transport::Medium> media;
    transport::Bath bath;
    double last = 0; ///< [s] long enough to come near balance

    transport::System assemble() const;
    /// Highest concentration at the start, bath included [kg per kg].
    double highest() const;
};

/// A line for odd seeds and a section for even ones; `isotropic` leaves the fibres out, `lossless`
/// the losses.
Case random_case(unsigned seed, bool isotropic = false, bool lossless = false);

} // namespace tidemark::transport_tests
