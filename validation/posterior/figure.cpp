// SPDX-License-Identifier: MIT
#include "posterior/figure.hpp"

#include "base/text.hpp"
#include "output/figure_parts.hpp"
#include "output/section_drawing.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::posterior {
namespace {

using output::Anchor;
using output::Point;

constexpr const char *ink = "#1a1a1a", *dark = "#14213d", *pale = "#9db8d6", *faint = "#d8d8d8",
                     *miss = "#b84a00";
constexpr double row = 84, reach = 8; // the axis goes from an eighth to eight times

/// One that is not spread by factors, as one: the slope of speed with salt becomes the factor over
/// 0.1 kg of salt per kg of water.
double factor(const KeptOut& k, double x) {
    return k.log ? x / k.middle : std::exp(0.1 * (x - k.middle));
}

void diamond(output::Drawing& d, const Point& p, double r, const std::string& colour) {
    d.area({{{p.x() - r, p.y()}, {p.x(), p.y() - r}, {p.x() + r, p.y()}, {p.x(), p.y() + r}}},
           colour);
}

} // namespace

output::Drawing figure(const Report& report) {
    const std::string answer = std::to_string(report.inside()) + " of " +
                               std::to_string(report.kept_out()) +
                               " published figures lie where the others put them";
    const std::string asked =
        "Each is predicted from all other sources: the print over the middle of its prediction";
    std::string detail = asked + ". Outside:";
    for (const KeptOut& k : report.figures())
        if (!k.inside)
            detail += ' ' + k.source + ", " + k.figure + ", " +
                      base::significant(factor(k, k.published), 2) + " times;";
    detail.back() = '.';
    output::Drawing d(answer, detail);
    const double top = output::head(d, {}, answer, asked) + 50, left = output::page_margin + 20,
                 right = d.width - output::page_margin - 20;
    const double bottom = top + row * static_cast<double>(report.figures().size()) + 10;
    const auto at = [&](double times) {
        const double x = std::clamp(times, 1 / reach, reach);
        return (left + right) / 2 + std::log(x) / std::log(reach) * (right - left) / 2;
    };
    for (const auto& [times, name] : {std::pair{0.125, "1/8"},
                                      {0.25, "1/4"},
                                      {0.5, "1/2"},
                                      {1., "as predicted"},
                                      {2., "2"},
                                      {4., "4"},
                                      {8., "8 times"}}) {
        const double x = at(times);
        d.line({{x, top - 8}, {x, bottom}}, times == 1 ? ink : faint, times == 1 ? 3 : 2);
        for (const double y : {top - 20, bottom + 36})
            d.words({{std::clamp(x, left, right - 30), y}, name, 28, Anchor::middle});
    }
    double y = top;
    for (const KeptOut& k : report.figures()) {
        const double from = at(factor(k, k.low)), to = at(factor(k, k.high)), low = y + 60;
        d.box({from, to, low - 9, low + 9}, pale);
        const Point seen(at(factor(k, k.published)), low);
        const std::string text = k.source + ", " + k.figure +
                                 (k.inside               ? ""
                                  : k.published > k.high ? ": above"
                                                         : ": below");
        output::Words name{{output::page_margin, y + 36}, text, 28};
        name.bold = !k.inside;
        if (!k.inside)
            name.colour = miss;
        d.box({name.at.x(), name.at.x() + output::text_width(text, name.bold ? 30 : 28), y + 12,
               y + 46},
              "#ffffff");
        d.words(name);
        if (k.inside)
            d.dot(seen, 10, dark);
        else
            diamond(d, seen, 15, miss);
        y += row;
    }
    using Kind = output::KeyEntry::Kind;
    y = output::draw_key(d, {output::page_margin, d.width - output::page_margin, bottom + 60, 0},
                         {{Kind::patch, pale, "90 in 100 of what is predicted", output::Dash::none},
                          {Kind::dot, dark, "published", output::Dash::none},
                          {Kind::patch, miss, "diamond: published, outside", output::Dash::none}});
    d.height =
        output::paragraph(
            d, y, "A slope is shown as what 0.1 kg more salt per kg of water does to the speed.",
            28, false) +
        10;
    return d;
}

} // namespace tidemark::posterior
