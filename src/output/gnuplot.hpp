// SPDX-License-Identifier: MIT
/// A drawing as a file: SVG by our own writer; PNG and PDF by gnuplot, which must then be
/// installed. The one way to gnuplot.
#pragma once

#include "output/drawing.hpp"

#include <string>

namespace tidemark::output {

/// Checks, before any work, that `path` ends in .svg, .png or .pdf and can be written. Throws
/// InputError headed by `where`.
void check_figure(const std::string& path, const std::string& where);

/// Writes the drawing to `path` in the form its ending says. Throws RunError if gnuplot is needed
/// and is not installed or fails; then no file is left.
void draw_page(const std::string& path, const Drawing& drawing);

} // namespace tidemark::output
