// SPDX-License-Identifier: MIT
/// Tables of slices as a shaky hand would trace them, each a function of its seed and invented:
/// outlines with noise, sharp corners, tapering fat, seams, bones near fat and skin, slivers,
/// points given twice, small loops and spikes. All could stand for a piece of meat, so all are to
/// be meshed; no fault in them is larger than 0.4 mm.
#pragma once

#include <string>

namespace tidemark::geometry {

struct Drawing {
    std::string what;  ///< the family, for messages
    std::string table; ///< part,kind,x [mm],y [mm]
};

constexpr int families = 10;
Drawing hand_drawn(unsigned seed); ///< of the family seed % families

} // namespace tidemark::geometry
