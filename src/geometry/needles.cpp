// SPDX-License-Identifier: MIT
#include "geometry/needles.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/recent.hpp"
#include "base/text.hpp"

#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <iterator>
#include <limits>
#include <numbers>
#include <set>

namespace tidemark::geometry {

namespace {

constexpr double narrowest = 2e-3, widest = 0.2, least_deposit = 1e-3; // [m]
constexpr double reach = 6; ///< standard deviations at which a deposit ends; 2e-8 lie beyond

double row_pitch(const Needles& n) {
    return n.row_spacing > 0 ? n.row_spacing : n.spacing;
}

/// Places along a row that has room for `length` [m], about 0; between the others if shifted.
std::vector<double> row(double length, double spacing, bool shifted) {
    const int n = static_cast<int>(std::floor(length / spacing + 1e-9)) + 1 - shifted;
    std::vector<double> places;
    for (int i = 0; i < n; ++i)
        places.push_back((i - 0.5 * (n - 1)) * spacing);
    return places;
}

std::vector<Point> places(const Box& box, const Needles& n, double margin) {
    const auto rows = row(box.height() - 2 * margin, row_pitch(n), false);
    std::vector<Point> found;
    for (std::size_t j = 0; j < rows.size(); ++j) {
        const bool shifted = n.staggered && (j + rows.size() / 2) % 2 == 1;
        for (double x : row(box.width() - 2 * margin, n.spacing, shifted))
            found.emplace_back(box.middle().x() + x, box.middle().y() + rows[j]);
    }
    return found;
}

/// The mean of a density over the lean around each node.
Eigen::VectorXd averaged(const Mesh& mesh, double sd,
                         const std::function<double(const Point&)>& density) {
    const auto nodes = static_cast<Eigen::Index>(mesh.nodes.size());
    Eigen::VectorXd amount = Eigen::VectorXd::Zero(nodes), area = amount;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        if (mesh.kinds[mesh.region[t]] != "lean")
            continue;
        const auto& corner = mesh.triangles[t];
        const Point &a = mesh.nodes[corner[0]], &b = mesh.nodes[corner[1]],
                    &c = mesh.nodes[corner[2]];
        const double longest = std::max({distance(a, b), distance(b, c), distance(c, a)});
        // Parts finer than the deposit, each counted by its centre. Never fewer than 4 to a side:
        // what they miss must fall with the cells' size alone, so that meshes can be extrapolated.
        const int m = std::clamp(static_cast<int>(std::ceil(2 * longest / sd)), 4, 32);
        const double part =
            ((b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x())) / (2 * m * m);
        const auto visit = [&](double u, double v) {
            const double share[3] = {1 - u - v, u, v};
            const double value = density({share[0] * a.x() + u * b.x() + v * c.x(),
                                          share[0] * a.y() + u * b.y() + v * c.y()});
            for (int k = 0; k < 3; ++k) {
                amount[corner[k]] += part * share[k] * value;
                area[corner[k]] += part * share[k];
            }
        };
        for (int i = 0; i < m; ++i)
            for (int j = 0; i + j < m; ++j) {
                visit((i + 1. / 3) / m, (j + 1. / 3) / m);
                if (i + j + 1 < m)
                    visit((i + 2. / 3) / m, (j + 2. / 3) / m);
            }
    }
    return (area.array() > 0).select(amount.array() / area.array().max(1e-300), 0);
}

/// The same, or what it was on such a mesh a moment ago: draws of one piece ask for it many times.
Eigen::VectorXd averaged_once(const Mesh& mesh, const Needles& needles, bool along, double sd,
                              const std::function<double(const Point&)>& density) {
    struct Known {
        std::vector<Point> nodes;
        std::vector<std::array<int, 3>> triangles;
        std::vector<int> region;
        Needles needles;
        bool along;
        Eigen::VectorXd value;
    };
    static base::Recent<Known, 12> last;
    const auto at_one_place = [](const Point& a, const Point& b) {
        return a.x() == b.x() && a.y() == b.y();
    };
    const auto same = [&](const Known& k) {
        return k.along == along && k.needles == needles && k.triangles == mesh.triangles &&
               k.region == mesh.region && std::ranges::equal(k.nodes, mesh.nodes, at_one_place);
    };
    if (auto known = last.find(same, &Known::value))
        return *std::move(known);
    Eigen::VectorXd value = averaged(mesh, sd, density);
    last.keep({mesh.nodes, mesh.triangles, mesh.region, needles, along, value});
    return value;
}

/// Scaled to a mean of 1, weighted by the water of lean.
Eigen::VectorXd over_lean(const Mesh& mesh, const Eigen::VectorXd& lean_water,
                          const Needles& needles, bool along, double sd,
                          const std::function<double(const Point&)>& density) {
    const Eigen::VectorXd value = averaged_once(mesh, needles, along, sd, density);
    const double mean = lean_water.dot(value) / lean_water.sum();
    if (!(mean > 0))
        throw base::InputError("needles", "", "reach no lean",
                               "give a smaller spacing or margin, or turn the piece");
    return value / mean;
}

/// The topmost bone between two of its corners: a needle from the top gets no farther.
struct Top {
    double from, to, at_from, at_to; ///< x and y [m]
};

/// From left to right.
std::vector<Top> bone_tops(const Section& section) {
    std::set<double> corners;
    for (const Region& region : section.regions)
        if (region.kind == "bone")
            for (const Point& p : region.ring)
                corners.insert(p.x());
    std::vector<Top> tops;
    for (auto right = corners.begin(); right != corners.end(); ++right) {
        if (right == corners.begin())
            continue;
        Top top{*std::prev(right), *right, 0, 0};
        double highest = -std::numeric_limits<double>::infinity();
        for (const Region& region : section.regions)
            for (std::size_t i = 0; region.kind == "bone" && i < region.ring.size(); ++i) {
                const Point &a = region.ring[i], &b = region.ring[(i + 1) % region.ring.size()];
                const auto [left, end] = std::minmax(a.x(), b.x());
                if (left > top.from || end < top.to || !(end > left))
                    continue;
                const auto at = [&](double x) {
                    return std::lerp(a.y(), b.y(), (x - a.x()) / (b.x() - a.x()));
                };
                const double middle = at((top.from + top.to) / 2);
                if (middle > highest) {
                    highest = middle;
                    top.at_from = at(top.from);
                    top.at_to = at(top.to);
                }
            }
        if (std::isfinite(highest))
            tops.push_back(top);
    }
    return tops;
}

} // namespace

Needles usual_needles(double spacing) {
    Needles n;
    n.spacing = n.row_spacing = spacing;
    n.deposit = spacing / 3;
    n.margin = spacing / 2;
    return n;
}

void check(const Needles& n, const std::string& where) {
    const auto length = [&](const char* name, double value, double low, double high) {
        if (!(value >= low && value <= high))
            throw base::InputError(where, name + (" " + base::show_length(value)),
                                   "must be from " + base::show_length(low) + " to " +
                                       base::show_length(high),
                                   "check the unit");
    };
    length("needle spacing", n.spacing, narrowest, widest);
    length("row spacing", row_pitch(n), narrowest, widest);
    length("deposit", n.deposit, least_deposit, widest);
    length("margin", n.margin, 0, 1);
    if (!(n.unevenness >= 1 && n.unevenness <= 5))
        throw base::InputError(where, "unevenness " + base::significant(n.unevenness, 3),
                               "must be from 1 to 5", "1 means that every needle gives the same");
}

double deposit_sd(const Needles& needles) { // exp(-r^2 / 2 sd^2) = 5 % at half the deposit's width
    return needles.deposit / 2 / std::sqrt(-2 * std::log(0.05));
}

std::vector<Point> pattern(const Box& plan, const Needles& needles) {
    check(needles, "needles");
    return places(plan, needles, needles.margin);
}

std::vector<Point> pattern(const Ring& plan, const Needles& needles) {
    std::vector<Point> found = pattern(bounds(plan), needles);
    std::erase_if(found, [&](const Point& p) {
        bool out = !inside(p, plan);
        for (std::size_t i = 0; !out && i < plan.size(); ++i)
            out = distance(p, plan[i], plan[(i + 1) % plan.size()]) < needles.margin * (1 - 1e-9);
        return out;
    });
    return found;
}

Eigen::VectorXd deposits_across(const Mesh& mesh, const Eigen::VectorXd& lean_water,
                                const Needles& needles) {
    check(needles, "needles");
    const double sd = deposit_sd(needles), row_distance = row_pitch(needles);
    const bool turned = row_distance > needles.spacing;
    const auto turn = [&](const Point& p) { return turned ? Point(p.y(), p.x()) : p; };
    Box box = bounds(Ring(mesh.nodes.begin(), mesh.nodes.end()));
    box = {turn(box.low), turn(box.high)};
    // An even number more of rows on each side keeps their places and which of them are shifted.
    const auto beyond = [&](double pitch) { return 2 * pitch * std::ceil(reach * sd / pitch / 2); };
    const double dx = beyond(needles.spacing), dy = beyond(row_distance);
    box = {{box.low.x() - dx, box.low.y() - dy}, {box.high.x() + dx, box.high.y() + dy}};

    struct Needle {
        Point at;
        double amount;
    };
    std::vector<Needle> all;
    boost::random::mt19937 engine(needles.seed);
    boost::random::normal_distribution<double> normal;
    for (const Point& p : places(box, needles, 0))
        all.push_back({turn(p), std::pow(needles.unevenness, normal(engine))});
    return over_lean(mesh, lean_water, needles, false, sd, [&](const Point& p) {
        double sum = 0;
        for (const Needle& n : all) {
            const double x = (p.x() - n.at.x()) / sd, y = (p.y() - n.at.y()) / sd,
                         r2 = x * x + y * y;
            if (r2 < reach * reach)
                sum += n.amount * std::exp(-r2 / 2);
        }
        return sum;
    });
}

Eigen::VectorXd deposits_along(const Mesh& mesh, const Eigen::VectorXd& lean_water,
                               const Section& section, const Needles& needles) {
    check(needles, "needles");
    const Box box = bounds(section.outline);
    const double sd = deposit_sd(needles),
                 outside = std::max(0.0, needles.margin - needles.spacing / 2),
                 first = box.low.x() + outside, last = box.high.x() - outside;
    const bool room = box.width() >= 2 * needles.margin; // for one needle
    const std::vector<Top> tops = needles.stops_at_bone ? bone_tops(section) : std::vector<Top>{};
    return over_lean(mesh, lean_water, needles, true, sd, [&](const Point& p) {
        const auto share = [&](double x) { // of a deposit at p that lies left of x
            return std::erf(std::clamp((x - p.x()) / sd, -reach, reach) / std::numbers::sqrt2) / 2;
        };
        double sum = 0, open = room ? first : last; // from where on needles get as low as p
        const auto shut = [&](double from, double to) {
            if (from > open)
                sum += share(std::min(from, last)) - share(open);
            open = std::clamp(to, open, last);
        };
        for (const Top& t : tops) {
            if (open >= last)
                break;
            const double over = t.at_from - p.y(), over_end = t.at_to - p.y();
            const double crossing = std::lerp(t.from, t.to, over / (over - over_end));
            if (over > 0 && over_end > 0)
                shut(t.from, t.to);
            else if (over > 0)
                shut(t.from, crossing);
            else if (over_end > 0)
                shut(crossing, t.to);
        }
        if (last > open)
            sum += share(last) - share(open);
        return sum / (share(box.high.x()) - share(box.low.x())); // what spreads stays in the piece
    });
}

} // namespace tidemark::geometry
