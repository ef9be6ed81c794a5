// SPDX-License-Identifier: MIT
/// What the module has not: another program to draw with, and a page inside the page.
#include "base/embedded.hpp"
#include "base/error.hpp"
#include "output/gnuplot.hpp"

namespace tidemark::base {
std::vector<Embedded> embedded_page() {
    return {};
}
} // namespace tidemark::base

namespace tidemark::output {

void check_figure(const std::string& path, const std::string& where) {
    throw base::InputError(where, path, "cannot be drawn here", "leave it out");
}

void draw_page(const std::string& path, const Drawing&) {
    throw base::RunError(path + " cannot be drawn here");
}

} // namespace tidemark::output
