// SPDX-License-Identifier: MIT
/// A block with its ribs: the rectangle of geometry::block(), and a row of bones.
#pragma once

#include "geometry/shapes.hpp"

namespace tidemark::cure {

/// Rectangle [m] with `bones` ovals in a row near its bottom face, 12 mm wide unless given, 1.2
/// times as wide as tall, with 5 mm of lean below unless the depth is given: as the ribs of a loin,
/// but spread over the whole width, each in the middle of its share (judgement, no source). Without
/// bones geometry::block() itself. Throws base::InputError headed by `where`.
geometry::Section rib_block(const geometry::Dimensions& d, const std::string& where);

} // namespace tidemark::cure
