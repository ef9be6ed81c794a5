// SPDX-License-Identifier: MIT
#include "output/drawing.hpp"

#include "base/text.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string/replace.hpp>

#include <array>
#include <cmath>
#include <numbers>

namespace tidemark::output {
namespace {

/// A tenth of a pixel is seen by nobody.
std::string number(double value) {
    std::string text = fixed(value, 1);
    if (text.ends_with(".0"))
        text.resize(text.size() - 2);
    return text == "-0" ? "0" : text;
}

class Svg {
public:
    explicit Svg(std::string& out) : out_(out) {}

    void operator()(const Area& a) {
        out_ += "<path fill=\"" + a.colour + "\" fill-rule=\"evenodd\" d=\"";
        for (const Points& ring : a.rings) {
            path(ring);
            out_ += 'Z';
        }
        out_ += "\"/>\n";
    }
    void operator()(const Line& l) {
        const double w = l.width;
        out_ += "<path fill=\"none\" stroke=\"" + l.colour + "\" stroke-width=\"" + number(w) +
                "\" stroke-linejoin=\"round\"";
        if (l.dash == Dash::dashed)
            out_ += " stroke-dasharray=\"" + number(4 * w) + ' ' + number(3 * w) + '"';
        if (l.dash == Dash::dotted)
            out_ += " stroke-linecap=\"round\" stroke-dasharray=\"0 " + number(2.5 * w) + '"';
        out_ += " d=\"";
        path(l.points);
        out_ += "\"/>\n";
    }
    void operator()(const Words& w) {
        static constexpr std::array anchors = {"start", "middle", "end"};
        out_ += "<text x=\"" + number(w.at.x()) + "\" y=\"" + number(w.at.y()) + "\" font-size=\"" +
                number(w.size) + "\" fill=\"" + w.colour + '"';
        if (w.anchor != Anchor::start)
            out_ += std::string(" text-anchor=\"") + anchors[static_cast<int>(w.anchor)] + '"';
        if (w.bold)
            out_ += " font-weight=\"bold\"";
        if (w.angle != 0)
            out_ += " transform=\"rotate(" + number(-w.angle) + ' ' + number(w.at.x()) + ' ' +
                    number(w.at.y()) + ")\"";
        if (!w.halo.empty())
            out_ += " stroke=\"" + w.halo + "\" stroke-width=\"" + number(w.size / 6) +
                    "\" paint-order=\"stroke\" stroke-linejoin=\"round\"";
        out_ += '>' + escaped(w.text) + "</text>\n";
    }

private:
    void path(const Points& points) {
        char command = 'M';
        for (const Point& p : points) {
            out_ += command + number(p.x()) + ' ' + number(p.y());
            command = 'L';
        }
    }
    std::string& out_;
};

} // namespace

void Drawing::dot(const Point& middle, double radius, const std::string& colour) {
    constexpr int corners = 24;
    Points ring;
    for (int k = 0; k < corners; ++k) {
        const double angle = 2 * std::numbers::pi * k / corners;
        ring.emplace_back(middle.x() + radius * std::cos(angle),
                          middle.y() + radius * std::sin(angle));
    }
    area({ring}, colour);
}

std::string escaped(const std::string& text) {
    std::string safe = base::showable(text);
    for (const auto& [special, name] :
         {std::pair{"&", "&amp;"}, {"<", "&lt;"}, {">", "&gt;"}, {"\"", "&quot;"}, {"'", "&#39;"}})
        boost::replace_all(safe, special, name);
    return safe;
}

double text_width(const std::string& text, double size) {
    return 0.53 * size * static_cast<double>(width_of(text));
}

std::string svg(const Drawing& d, bool standing_alone) {
    std::string out = standing_alone ? "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" : "";
    out += "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + number(d.width) + ' ' +
           number(d.height) + "\" role=\"img\" ";
    if (standing_alone)
        out += "width=\"" + number(d.width) + "\" height=\"" + number(d.height) + "\" ";
    out += "font-family=\"sans-serif\">\n<title>" + escaped(d.title()) + "</title>\n<desc>" +
           escaped(d.detail()) + "</desc>\n";
    if (standing_alone)
        out += "<rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n";
    Svg writer(out);
    for (const auto& shape : d.shapes())
        std::visit(writer, shape);
    return out + "</svg>\n";
}

} // namespace tidemark::output
