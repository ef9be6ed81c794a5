// SPDX-License-Identifier: MIT
#include "geometry/delaunay.hpp"

#include <boost/polygon/voronoi.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::geometry {

std::vector<std::array<int, 3>> delaunay(const std::vector<Point>& points) {
    double x0 = points[0].x(), x1 = x0, y0 = points[0].y(), y1 = y0;
    for (const Point& p : points) {
        x0 = std::min(x0, p.x()), x1 = std::max(x1, p.x());
        y0 = std::min(y0, p.y()), y1 = std::max(y1, p.y());
    }
    const double scale = 1e8 / std::max(x1 - x0, y1 - y0);
    std::vector<boost::polygon::point_data<int>> sites;
    sites.reserve(points.size());
    for (const Point& p : points)
        sites.emplace_back(static_cast<int>(std::lround((p.x() - x0) * scale)),
                           static_cast<int>(std::lround((p.y() - y0) * scale)));
    boost::polygon::voronoi_diagram<double> diagram;
    boost::polygon::construct_voronoi(sites.begin(), sites.end(), &diagram);

    std::vector<std::array<int, 3>> triangles;
    triangles.reserve(2 * points.size());
    std::vector<int> around;
    for (const auto& vertex : diagram.vertices()) {
        around.clear();
        const auto* edge = vertex.incident_edge();
        do {
            around.push_back(static_cast<int>(edge->cell()->source_index()));
            edge = edge->rot_next();
        } while (edge != vertex.incident_edge());
        for (std::size_t i = 2; i < around.size(); ++i) {
            std::array<int, 3> t{around[0], around[i - 1], around[i]};
            const Point &a = points[t[0]], &b = points[t[1]], &c = points[t[2]];
            if ((b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x()) < 0)
                std::swap(t[1], t[2]);
            triangles.push_back(t);
        }
    }
    return triangles;
}

} // namespace tidemark::geometry
