// SPDX-License-Identifier: MIT
/// Reads an outline and its regions from CSV text, one row per point. No quoting: names have no
/// commas.
#include "geometry/shapes.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string/split.hpp>

#include <algorithm>
#include <sstream>

namespace tidemark::geometry {
namespace {

using base::InputError;
using Fields = std::vector<std::string>;

constexpr double ribbon = 1e-4; // of the thickness, half the width of a seal along a face

const Fields kinds{"outline", "lean", "fat", "bone", "sealed"};

/// The unit that the header names, in metres.
double unit_of(const Fields& header, const std::string& line, const std::string& where) {
    for (const std::string unit : {"mm", "cm", "in"}) {
        if (header == Fields{"part", "kind", "x [" + unit + "]", "y [" + unit + "]"}) {
            return base::to_si(1, unit, base::Dimension::length);
        }
    }
    throw InputError(where, line, "the first line must be: part,kind,x [mm],y [mm]",
                     "name the unit of x and y in brackets: mm, cm or in");
}

/// Checks that a part's rows stand together and are of one known kind.
void check_row(const std::vector<Region>& parts, const std::string& name, const std::string& kind,
               const std::string& where) {
    if (name.empty()) {
        throw InputError(where, "part", "is empty", "give every part a name");
    }
    if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) {
        const std::string meant = base::nearest(kind, kinds);
        throw InputError(where, kind, "a kind is outline, lean, fat, bone or sealed",
                         meant.empty() ? "choose one of these" : "did you mean " + meant + "?");
    }
    const auto same = std::find_if(parts.begin(), parts.end(),
                                   [&](const Region& part) { return part.name == name; });
    if (same == parts.end()) {
        const auto is_outline = [](const Region& part) { return part.kind == "outline"; };
        if (kind == "outline" && std::any_of(parts.begin(), parts.end(), is_outline)) {
            throw InputError(where, name, "is a second outline",
                             "keep one, and give the rest another kind");
        }
    } else if (same->kind != kind) {
        throw InputError(where, kind, "part '" + name + "' began as " + same->kind,
                         "give each part one kind");
    } else if (same + 1 != parts.end()) {
        throw InputError(where, name, "goes on after another part",
                         "keep the rows of a part together, in order around it");
    }
}

/// Seals the stretches of a checked outline that belong to a face: each edge by a thin kite from
/// end to end.
void seal(Section& section, const std::string& face) {
    const Ring& ring = section.outline;
    const std::vector<std::string> faces = faces_along(ring, face_names(), section.thickness);
    if (std::ranges::find(faces, face) == faces.end()) {
        throw InputError("--seal", face, "no stretch of this outline faces that way",
                         "leave it out, or draw what is sealed as a part of the kind sealed");
    }
    for (std::size_t i = 0; i < ring.size(); ++i) {
        if (faces[i] != face) {
            continue;
        }
        const Point &a = ring[i], &b = ring[(i + 1) % ring.size()];
        const double wide = ribbon * section.thickness / distance(a, b);
        const Point middle((a.x() + b.x()) / 2, (a.y() + b.y()) / 2);
        const double x = wide * (b.y() - a.y()), y = wide * (a.x() - b.x());
        section.seals.push_back(
            {face, {a, {middle.x() + x, middle.y() + y}, b, {middle.x() - x, middle.y() - y}}});
    }
}

} // namespace

Section outline_from_csv(const std::string& text, const std::string& file_name,
                         std::vector<std::string> faces, const std::vector<std::string>& sealed) {
    std::istringstream lines(text);
    std::string raw;
    double factor = 0; // the unit in metres; 0 until the header has been read
    std::vector<Region> parts;
    for (int number = 1; std::getline(lines, raw); ++number) {
        const std::string line = base::trim(raw);
        if (line.empty() || line.front() == '#') {
            continue;
        }
        const std::string where = file_name + ":" + std::to_string(number);
        Fields fields;
        boost::algorithm::split(fields, line, [](char c) { return c == ','; });
        std::transform(fields.begin(), fields.end(), fields.begin(), base::trim);
        if (factor == 0) {
            factor = unit_of(fields, line, where);
            continue;
        }
        if (fields.size() != 4) {
            throw InputError(where, line, "has " + std::to_string(fields.size()) + " fields, not 4",
                             "write part,kind,x,y with decimal points");
        }
        check_row(parts, fields[0], fields[1], where);
        if (parts.empty() || parts.back().name != fields[0]) {
            parts.push_back({fields[0], fields[1], {}});
        }
        const auto metres = [&](const std::string& value) {
            return factor * base::parse(value, base::Dimension::number, where);
        };
        parts.back().ring.emplace_back(metres(fields[2]), metres(fields[3]));
    }
    Section section{file_name, {}, {}, {}, std::move(faces)};
    for (Region& part : parts) {
        if (part.kind == "outline") {
            section.outline = std::move(part.ring);
        } else if (part.kind == "sealed") {
            section.seals.push_back({part.name, std::move(part.ring)});
        } else {
            section.regions.push_back(std::move(part));
        }
    }
    if (section.outline.empty()) {
        throw InputError(file_name, "outline", "is missing",
                         factor == 0 ? "begin with the line part,kind,x [mm],y [mm]"
                                     : "give one part the kind outline");
    }
    section = checked(std::move(section), file_name);
    if (sealed.empty()) {
        return section;
    }
    for (const std::string& face : sealed) {
        seal(section, face);
    }
    return checked(std::move(section), file_name);
}

} // namespace tidemark::geometry
