// SPDX-License-Identifier: MIT
/// One description of a picture, for every backend: areas, lines and words on a page in pixels, x
/// to the right and y down. Written as SVG here; as PNG and PDF by gnuplot (gnuplot.hpp). Pages are
/// 1080 wide, so that on a phone, which shows them a third as large, the words still are ten pixels
/// high.
#pragma once

#include "geometry/ring.hpp"

#include <string>
#include <variant>
#include <vector>

namespace tidemark::output {

constexpr double page_width = 1080;  ///< [pixels]
constexpr double narrow_width = 720; ///< of what stands in a column of a page of HTML [pixels]
constexpr double text_size = 30;     ///< of the words on a page [pixels]

/// A rectangle on the page [pixels].
struct Box {
    double left = 0, right = 0, top = 0, bottom = 0;
};

using geometry::Point;
using Points = std::vector<Point>;

enum class Dash { none, dashed, dotted };
enum class Anchor { start, middle, end };

/// What the rings enclose; a ring that runs the other way is a hole.
struct Area {
    std::vector<Points> rings;
    std::string colour;
};
struct Line {
    Points points;
    std::string colour;
    double width = 3;
    Dash dash = Dash::none;
};
/// One line of words; `halo` is the colour of a thin rim, or empty.
struct Words {
    Point at{0, 0}; ///< on the line they stand on
    std::string text;
    double size = text_size;
    Anchor anchor = Anchor::start;
    std::string colour = "#1a1a1a";
    double angle = 0; ///< counter-clockwise [degrees]
    std::string halo = {};
    bool bold = false;
};

/// Shapes in the order in which they are laid down.
class Drawing {
public:
    /// `title` and `detail` are read out in place of the picture.
    Drawing(std::string title, std::string detail)
        : title_(std::move(title)), detail_(std::move(detail)) {}

    double width = page_width, height = 0;

    void area(std::vector<Points> rings, const std::string& colour) {
        if (!rings.empty())
            shapes_.emplace_back(Area{std::move(rings), colour});
    }
    void line(Points points, const std::string& colour, double thick, Dash dash = Dash::none) {
        if (points.size() > 1)
            shapes_.emplace_back(Line{std::move(points), colour, thick, dash});
    }
    void words(Words words) {
        if (!words.text.empty())
            shapes_.emplace_back(std::move(words));
    }
    void box(const Box& b, const std::string& colour) {
        area({{{b.left, b.top}, {b.right, b.top}, {b.right, b.bottom}, {b.left, b.bottom}}},
             colour);
    }
    void dot(const Point& middle, double radius, const std::string& colour);

    const std::string& title() const { return title_; }
    const std::string& detail() const { return detail_; }
    const std::vector<std::variant<Area, Line, Words>>& shapes() const { return shapes_; }

private:
    std::string title_, detail_;
    std::vector<std::variant<Area, Line, Words>> shapes_;
};

/// The picture as one <svg> element with its own title and description; nothing in it comes from
/// elsewhere. `standing_alone`: with what a file of its own needs.
std::string svg(const Drawing& drawing, bool standing_alone = true);

/// Text as it may stand in the content or in a quoted attribute of XML and HTML: the five special
/// characters escaped, controls and what turns the direction of text taken out.
std::string escaped(const std::string& text);

/// How wide a text is about to be, in a common sans-serif type [pixels].
double text_width(const std::string& text, double size = text_size);

} // namespace tidemark::output
