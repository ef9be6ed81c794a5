// SPDX-License-Identifier: MIT
/// A page drawn by gnuplot, which must be installed; the one way to it. Sizes are in pixels of a
/// page 1080 wide, so that on a phone, which shows it a third as large, the text still is ten
/// pixels high.
#pragma once

#include <functional>
#include <ostream>
#include <string>

namespace tidemark::output {

constexpr double page_width = 1080; ///< [pixels]

/// Checks, before any work, that `path` ends in .svg, .png or .pdf and can be written. Throws
/// InputError headed by `where`.
void check_figure(const std::string& path, const std::string& where);

/// Draws what `script` writes, on a page of `height` [pixels], to `path`. The script is told
/// gnuplot's point size of a dot of 26 pixels. Throws RunError if gnuplot is not installed or
/// fails; then no file is left.
void draw_page(const std::string& path, double height,
               const std::function<void(std::ostream&, double dot)>& script);

/// `text` in gnuplot's single quotes, where only the quote itself is special; no line breaks.
std::string quoted(const std::string& text);

} // namespace tidemark::output
