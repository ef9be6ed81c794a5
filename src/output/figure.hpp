// SPDX-License-Identifier: MIT
/// The cross-section as a picture: how far the cure has come, day by day, with bone and fat.
/// Draws through gnuplot, which must be installed; nothing else here needs it.
#pragma once

#include "cure/prediction.hpp"

#include <string>

namespace tidemark::output {

/// Checks, before any work, that `path` ends in .svg, .png or .pdf and can be written. Throws
/// InputError headed by `where`.
void check_figure(const std::string& path, const std::string& where);

/// Draws `picture` to `path`: amounts in ppm or percent by mass, lengths in mm and inches. Throws
/// RunError if gnuplot is not installed or fails; then no file is left.
void draw_figure(const cure::Prediction& prediction, const cure::Picture& picture,
                 const std::string& path);

} // namespace tidemark::output
