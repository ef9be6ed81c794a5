// SPDX-License-Identifier: MIT
/// Reading a field given at the nodes: its lowest point, its level lines, and a raster.
/// Linear on each triangle except for the lowest point, which is fitted.
#pragma once

#include "geometry/mesh.hpp"

#include <Eigen/Core>

#include <array>
#include <functional>
#include <optional>
#include <vector>

namespace tidemark::geometry {

struct Lowest {
    double value = 0;
    Point at{0, 0}; ///< [m]; for a line, x is the coordinate along it
};

/// Finds the lowest point of a field in one region: the lowest node, then the least value of a
/// quadratic fitted to the region's nodes around it, over the region's cells at that node. So it is
/// one-sided at fat and bone, and does not depend on a node lying at the spot.
class LowestPoint {
public:
    LowestPoint(const Mesh& mesh, int region);
    LowestPoint(const Line& line, int region);
    Lowest operator()(const Eigen::VectorXd& nodal) const;

private:
    Lowest fit_plane(const Eigen::VectorXd& nodal, int lowest) const;
    Lowest fit_line(const Eigen::VectorXd& nodal, int lowest) const;
    const Mesh* mesh_ = nullptr;
    const Line* line_ = nullptr;
    std::vector<int> nodes_;                  // of the region
    std::vector<std::vector<int>> triangles_; // of the region, at each node
};

/// Lines along which the field equals `level`, over the triangles whose region `wanted` accepts.
std::vector<std::vector<Point>> level_lines(const Mesh& mesh, const Eigen::VectorXd& nodal,
                                            double level, const std::function<bool(int)>& wanted);

/// Where the field is below `level`, over the triangles whose region `wanted` accepts: closed rings
/// with the low side on their left, so that what they enclose has holes running the other way.
std::vector<Ring> below(const Mesh& mesh, const Eigen::VectorXd& nodal, double level,
                        const std::function<bool(int)>& wanted);

/// The triangle that a point [m] lies in, by its nodes, with their weights [1]; none outside.
struct Spot {
    std::array<int, 3> nodes;
    std::array<double, 3> weights;
};
std::optional<Spot> spot(const Mesh& mesh, const Point& p);

/// A regular raster of cell centres.
struct Raster {
    double x0 = 0, y0 = 0, step = 1; ///< [m] centre of cell (0, 0), cell size
    int nx = 0, ny = 0;
};

/// Calls visit(cell index, triangle, barycentric weights) for every raster centre in the mesh.
void rasterise(const Mesh& mesh, const Raster& raster,
               const std::function<void(int, int, const std::array<double, 3>&)>& visit);

} // namespace tidemark::geometry
