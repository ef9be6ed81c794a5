// SPDX-License-Identifier: MIT
/// Which stretches of an outline are its top, bottom, left and right.
#include "geometry/section.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::geometry {

namespace {

constexpr double dent = 0.1; ///< of the thickness, the shortest way round a face within another

} // namespace

const std::vector<std::string>& face_names() {
    static const std::vector<std::string> names{"top", "bottom", "left", "right"};
    return names;
}

const std::string& facing(const Point& a, const Point& b) {
    const double nx = b.y() - a.y(), ny = a.x() - b.x(); // outward
    const bool upright =
        std::abs(ny) >= (1 - 1e-9) * std::abs(nx); // rounding on an edge of 45 degrees
    return face_names()[upright ? (ny > 0 ? 0 : 1) : (nx > 0 ? 3 : 2)];
}

std::vector<std::string> faces_along(const Ring& ring, const std::vector<std::string>& faces,
                                     double thickness) {
    const std::size_t n = ring.size();
    std::vector<std::string> face(n);
    for (std::size_t i = 0; i < n && !faces.empty(); ++i)
        face[i] = facing(ring[i], ring[(i + 1) % n]);
    for (std::size_t i = 0; i < n; ++i) {
        const std::string before = face[(i + n - 1) % n];
        double length = 0;
        std::size_t k = 0;
        for (; face[(i + k) % n] != before && length < dent * thickness; ++k)
            length += distance(ring[(i + k) % n], ring[(i + k + 1) % n]);
        if (length < dent * thickness)
            for (std::size_t j = 0; j < k; ++j)
                face[(i + j) % n] = before;
    }
    for (std::string& f : face)
        if (std::ranges::find(faces, f) == faces.end())
            f.clear();
    return face;
}

} // namespace tidemark::geometry
