// SPDX-License-Identifier: MIT
/// Several systems side by side in one bath: what one gives to the bath the others find there.
/// The systems touch each other through the bath only; faces that touch are for the mesher to shut.
/// Each system brings a share of the bath, and the shares are poured together.
#pragma once

#include "transport/system.hpp"

#include <vector>

namespace tidemark::transport {

/// A system of one unit of cells, and how many such units there are.
struct Part {
    System system;
    double units = 1; ///< above zero
};

/// The parts as one system, the bath last as ever. It has no nodes or regions of its own: ask each
/// part's system for those.
struct Joined {
    System system;
    /// Of each part's unknowns, the joined one; the bath's is the same for all, and the others
    /// follow one another, so a Spectrum of the whole can show each part its own share.
    std::vector<std::vector<int>> unknowns;
};

/// Joins parts [1..]: waters, conductances and shares of the bath [kg water] each times the part's
/// units. Throws base::RunError where the baths cannot be one: held and not held, held at different
/// strengths, or of different partition or loss.
Joined join(const std::vector<Part>& parts);

} // namespace tidemark::transport
