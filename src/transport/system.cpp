// SPDX-License-Identifier: MIT
#include "transport/system.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace tidemark::transport {

namespace {

using geometry::Point;

/// Collects conductances between nodes, then numbers the unknowns and puts the bath in.
class Assembly {
public:
    /// `twin` as in geometry::Mesh: what is the same in both is one unknown.
    Assembly(std::vector<Eigen::VectorXd> region_water, const std::vector<Medium>& media,
             std::vector<bool> wet, std::vector<int> twin = {})
        : wet_(std::move(wet)), twin_(std::move(twin)), film_area_(wet_.size(), 0.0) {
        system_.region_water = std::move(region_water);
        losses_.setZero(static_cast<Eigen::Index>(wet_.size()));
        initial_ = losses_;
        for (std::size_t r = 0; r < media.size(); ++r) {
            losses_ += media[r].loss * system_.region_water[r];
            initial_ += media[r].initial * system_.region_water[r];
        }
    }

    void expect(std::size_t links) { links_.reserve(links); }
    void link(int a, int b, double conductance) { links_.push_back({a, b, conductance}); }
    void film_area(int node, double area) { film_area_[node] += area; }

    System finish(const Bath& bath) {
        const bool film = std::isfinite(bath.film);
        const int nodes = static_cast<int>(wet_.size());
        System& s = system_;
        s.unknown.resize(nodes);
        int count = 0;
        for (int i = 0; i < nodes; ++i)
            s.unknown[i] = wet_[i] && !film                 ? -1
                           : twin_.empty() || twin_[i] == i ? count++
                                                            : s.unknown[twin_[i]];
        for (int& i : s.unknown)
            i = i < 0 ? count : i;
        const int at_bath = count;
        s.held = std::isinf(bath.water);
        s.partition = bath.partition;
        s.bath_capacity = s.held ? 0.0 : bath.water / bath.partition;
        s.bath_loss = bath.loss;
        s.capacity.setZero(count + 1);
        s.loss.setZero(count + 1);
        s.initial.setZero(count + 1);
        s.capacity[at_bath] = s.bath_capacity;
        s.loss[at_bath] = s.bath_capacity * bath.loss;
        s.initial[at_bath] = s.bath_capacity * bath.partition * bath.concentration;
        for (int i = 0; i < nodes; ++i) {
            const int k = s.unknown[i];
            for (const auto& water : s.region_water)
                s.capacity[k] += water[i];
            s.loss[k] += losses_[i];
            s.initial[k] += initial_[i];
        }
        for (int k = 0; k <= count; ++k)
            if (s.capacity[k] > 0) {
                s.loss[k] /= s.capacity[k];
                s.initial[k] /= s.capacity[k];
            }
        if (s.held)
            s.initial[at_bath] = bath.partition * bath.concentration;

        std::vector<Eigen::Triplet<double>> entries;
        entries.reserve(2 * links_.size() + static_cast<std::size_t>(count) + 1);
        Eigen::VectorXd diagonal = Eigen::VectorXd::Zero(count + 1);
        const auto add = [&](int a, int b, double g) {
            if (a == b)
                return;
            diagonal[a] += g;
            diagonal[b] += g;
            entries.emplace_back(a, b, -g);
            entries.emplace_back(b, a, -g);
        };
        for (const Link& l : links_)
            add(s.unknown[l.a], s.unknown[l.b], l.conductance);
        if (film)
            for (int i = 0; i < nodes; ++i)
                if (film_area_[i] > 0) // flux = h A rho (c - w/partition), written with w
                    add(s.unknown[i], at_bath,
                        bath.film * bath.water_density / bath.partition * film_area_[i]);
        for (int k = 0; k <= count; ++k)
            entries.emplace_back(k, k, diagonal[k]);
        s.conductance.resize(count + 1, count + 1);
        s.conductance.setFromTriplets(entries.begin(), entries.end());
        return std::move(s);
    }

private:
    struct Link {
        int a, b;
        double conductance;
    };
    System system_;
    std::vector<bool> wet_;
    std::vector<int> twin_;
    std::vector<double> film_area_;
    std::vector<Link> links_;
    Eigen::VectorXd losses_, initial_;
};

/// A triangle's area [m2] and its sides turned by a right angle: twice the area times the gradient
/// of each corner's hat.
struct Sides {
    double area, gx[3], gy[3];
    Sides(const geometry::Mesh& mesh, std::size_t t) {
        const auto& corner = mesh.triangles[t];
        const Point* p[3] = {&mesh.nodes[corner[0]], &mesh.nodes[corner[1]],
                             &mesh.nodes[corner[2]]};
        for (int k = 0; k < 3; ++k) {
            const Point &q = *p[(k + 1) % 3], &r = *p[(k + 2) % 3];
            gx[k] = q.y() - r.y();
            gy[k] = r.x() - q.x();
        }
        area = 0.5 * (gx[1] * gy[2] - gx[2] * gy[1]);
    }
    /// What part of it lies nearest each corner: its Voronoi cell, or half and two quarters when an
    /// angle is obtuse.
    std::array<double, 3> dual_shares() const {
        std::array<double, 3> side2{}, cot{}, share{}; // of the side facing each corner, its angle
        for (int k = 0; k < 3; ++k) {
            const int i = (k + 1) % 3, j = (k + 2) % 3;
            side2[k] = gx[k] * gx[k] + gy[k] * gy[k];
            cot[k] = -(gx[i] * gx[j] + gy[i] * gy[j]) / (2 * area);
        }
        const auto obtuse = std::find_if(cot.begin(), cot.end(), [](double c) { return c < 0; });
        for (int k = 0; k < 3; ++k) {
            const int i = (k + 1) % 3, j = (k + 2) % 3;
            share[k] = obtuse == cot.end() ? (side2[i] * cot[i] + side2[j] * cot[j]) / (8 * area)
                                           : (obtuse - cot.begin() == k ? 0.5 : 0.25);
        }
        return share;
    }
};

/// What a line's unit of r^power stands for [1]: a sheet's face, a long round, a ball.
double round_of(const geometry::Line& line) {
    return line.power == 0 ? 1 : line.power == 1 ? 2 * std::numbers::pi : 4 * std::numbers::pi;
}

std::vector<Eigen::VectorXd> no_water(std::size_t regions, std::size_t nodes) {
    return std::vector<Eigen::VectorXd>(regions,
                                        Eigen::VectorXd::Zero(static_cast<Eigen::Index>(nodes)));
}

} // namespace

std::vector<Eigen::VectorXd> region_water(const geometry::Mesh& mesh,
                                          const std::vector<Medium>& media) {
    auto water = no_water(media.size(), mesh.nodes.size());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Sides of(mesh, t);
        const std::array<double, 3> share = of.dual_shares();
        const auto region = static_cast<std::size_t>(mesh.region[t]);
        for (int k = 0; k < 3; ++k)
            water[region][mesh.triangles[t][k]] += media[region].water * of.area * share[k];
    }
    return water;
}

std::vector<Eigen::VectorXd> region_water(const geometry::Line& line,
                                          const std::vector<Medium>& media) {
    auto water = no_water(media.size(), line.nodes.size());
    const auto volume = [&](double r) {
        return round_of(line) * std::pow(r, line.power + 1) / (line.power + 1);
    };
    for (std::size_t i = 0; i + 1 < line.nodes.size(); ++i) {
        const auto region = static_cast<std::size_t>(line.region[i]);
        const double r0 = line.nodes[i], r1 = line.nodes[i + 1], middle = (r0 + r1) / 2;
        const auto at = static_cast<Eigen::Index>(i);
        water[region][at] += media[region].water * (volume(middle) - volume(r0));
        water[region][at + 1] += media[region].water * (volume(r1) - volume(middle));
    }
    return water;
}

Eigen::VectorXd System::mean_weights(int region) const {
    Eigen::VectorXd w = Eigen::VectorXd::Zero(capacity.size());
    const Eigen::VectorXd& water = region_water[region];
    for (Eigen::Index i = 0; i < water.size(); ++i)
        w[unknown[i]] += water[i];
    return w / water.sum();
}

double System::mean(const Eigen::VectorXd& u, int region) const {
    return mean_weights(region).dot(u);
}

void change_bath(System& s, double loss, const Bath& bath) {
    const Eigen::Index b = s.bath();
    const double value = bath.partition * bath.concentration,
                 wall = s.capacity[b] - s.bath_capacity, // and what its nodes bring
        brought = s.capacity[b] * s.initial[b] - s.bath_capacity * value;
    s.bath_capacity = s.held ? 0 : bath.water / bath.partition;
    s.bath_loss = bath.loss;
    s.capacity[b] = wall + s.bath_capacity;
    s.loss.setConstant(loss);
    s.loss[b] = s.capacity[b] > 0 ? (wall * loss + s.bath_capacity * bath.loss) / s.capacity[b] : 0;
    if (!s.held)
        s.initial[b] = (brought + s.bath_capacity * value) / s.capacity[b];
}

System assemble(const geometry::Mesh& mesh, const std::vector<Medium>& media, const Bath& bath) {
    Assembly assembly(region_water(mesh, media), media, mesh.wet, mesh.twin);
    assembly.expect(3 * mesh.triangles.size());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto& corner = mesh.triangles[t];
        const Medium& m = media[mesh.region[t]];
        const Sides of(mesh, t);
        const double across = m.water * m.diffusivity, along = across * m.ratio;
        const double co = std::cos(m.angle), si = std::sin(m.angle);
        const double pxx = along * co * co + across * si * si,
                     pyy = along * si * si + across * co * co, pxy = (along - across) * co * si;
        for (int k = 0; k < 3; ++k) {
            const int l = (k + 1) % 3;
            assembly.link(corner[k], corner[l],
                          -(of.gx[k] * (pxx * of.gx[l] + pxy * of.gy[l]) +
                            of.gy[k] * (pxy * of.gx[l] + pyy * of.gy[l])) /
                              (4 * of.area));
        }
    }
    for (const geometry::CurveEdge& e : mesh.edges)
        if (mesh.curves[e.curve].wet) {
            const double half = geometry::distance(mesh.nodes[e.a], mesh.nodes[e.b]) / 2;
            assembly.film_area(e.a, half);
            assembly.film_area(e.b, half);
        }
    return assembly.finish(bath);
}

System assemble(const geometry::Line& line, const std::vector<Medium>& media, const Bath& bath) {
    const std::size_t n = line.nodes.size();
    std::vector<bool> wet(n, false);
    wet.front() = line.wet_first;
    wet.back() = line.wet_last;
    Assembly assembly(region_water(line, media), media, wet);
    const auto area = [&](double r) { return round_of(line) * std::pow(r, line.power); };
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const Medium& m = media[line.region[i]];
        const double r0 = line.nodes[i], r1 = line.nodes[i + 1];
        assembly.link(static_cast<int>(i), static_cast<int>(i) + 1,
                      m.water * m.diffusivity * area((r0 + r1) / 2) / (r1 - r0));
    }
    if (line.wet_first)
        assembly.film_area(0, area(line.nodes.front()));
    if (line.wet_last)
        assembly.film_area(static_cast<int>(n) - 1, area(line.nodes.back()));
    return assembly.finish(bath);
}

} // namespace tidemark::transport
