// SPDX-License-Identifier: MIT
#include "hand_drawn.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>
#include <random>
#include <vector>

namespace tidemark::geometry {
namespace {

using std::numbers::pi;

struct Mark {
    double x = 0, y = 0; // [mm]
};
using Trace = std::vector<Mark>;

class Hand {
public:
    explicit Hand(unsigned seed) : engine_(seed) {
        shake_ = chance(0.3) ? 0 : between(0.02, 0.3);
        grid_ = chance(0.3) ? 0.5 : chance(0.5) ? 0.1 : 0.01;
        half_ = between(20, 75);
        aspect_ = between(1.1, 2.2);
    }
    Drawing draw(int family);

private:
    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(engine_);
    }
    int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(engine_); }
    bool chance(double p) { return between(0, 1) < p; }
    Mark off(Mark p) { return {p.x + between(-shake_, shake_), p.y + between(-shake_, shake_)}; }

    /// A closed curve in waves around an ellipse; `waves` is their share of the radius.
    Trace round(double waves, int points) {
        std::vector<double> size(6), phase(6);
        for (int k = 2; k < 6; ++k)
            size[k] = between(0, waves) / (k * k / 4.0), phase[k] = between(0, 2 * pi);
        Trace ring;
        for (int i = 0; i < points; ++i) {
            const double angle = 2 * pi * i / points;
            double r = 1;
            for (int k = 2; k < 6; ++k)
                r += size[k] * std::cos(k * angle + phase[k]);
            ring.push_back({half_ * aspect_ * r * std::cos(angle), half_ * r * std::sin(angle)});
        }
        return ring;
    }
    Trace shaken(Trace ring) {
        for (Mark& p : ring)
            p = off(p);
        return ring;
    }
    void part(const std::string& name, const std::string& kind, const Trace& ring) {
        char row[80];
        for (const Mark& p : ring) {
            std::snprintf(row, sizeof row, "%s,%s,%.3f,%.3f\n", name.c_str(), kind.c_str(),
                          std::round(p.x / grid_) * grid_, std::round(p.y / grid_) * grid_);
            table_ += row;
        }
    }
    Trace oval(Mark at, double width, double height, int points) {
        Trace ring;
        for (int i = 0; i < points; ++i)
            ring.push_back(off({at.x + width / 2 * std::cos(2 * pi * i / points),
                                at.y + height / 2 * std::sin(2 * pi * i / points)}));
        return ring;
    }
    void sharp();
    void cap(bool retraced);
    void seam(bool to_skin);
    void bones();
    void sliver();
    void slips();

    std::mt19937 engine_;
    double shake_ = 0, grid_ = 0.1, half_ = 0, aspect_ = 0;
    std::string table_ = "part,kind,x [mm],y [mm]\n";
};

/// A drop with one or two corners of 5 to 30 degrees, or a wedge.
void Hand::sharp() {
    const double angle = between(5, 30) * pi / 180, length = 2 * half_ * aspect_;
    Trace ring;
    if (chance(0.3)) { // a wedge
        const double height = std::max(8.0, 2 * length * std::tan(angle / 2));
        const double reach = height / 2 / std::tan(angle / 2);
        ring = {{0, 0},
                {reach, -height / 2},
                {reach + between(0, 20), between(-2, 2)},
                {reach, height / 2}};
    } else {
        const int n = whole(8, 60);
        const double belly = half_ * between(0.5, 1);
        const bool both = chance(0.4);
        const auto height = [&](double t) { // 0 to 1 along; straight by the tip
            const double d = both ? std::min(t, 1 - t) : t;
            const double top = std::min(std::tan(angle / 2) * d * length, belly);
            return both ? top : top * std::sqrt(1 - t * t * t * t);
        };
        for (int i = 0; i < n; ++i)
            ring.push_back(off({length * i / n, -height(double(i) / n)}));
        for (int i = n; i > 0; --i)
            ring.push_back(off({length * i / n, height(double(i) / n)}));
        ring[0] = {0, 0};
    }
    part("slice", "outline", ring);
}

/// Fat on top that tapers to nothing at 3 to 20 degrees; its outer line is the outline's own, or
/// traced again by the same hand.
void Hand::cap(bool retraced) {
    if (retraced) // two hands' shakes and roundings add up
        shake_ = std::min(shake_, 0.12), grid_ = std::min(grid_, 0.1);
    const Trace true_ring = round(0.08, whole(24, 150));
    const Trace outline = shaken(true_ring);
    const std::size_t n = outline.size(), first = n / 20 + whole(0, 2),
                      last = n * 9 / 20 - whole(0, 2);
    const double depth = between(2, 0.25 * half_), angle = between(3, 20) * pi / 180;
    Trace fat;
    for (std::size_t i = first; i <= last; ++i)
        fat.push_back(retraced ? off(true_ring[i]) : outline[i]);
    std::vector<double> along{0};
    for (std::size_t i = first + 1; i <= last; ++i)
        along.push_back(along.back() + std::hypot(true_ring[i].x - true_ring[i - 1].x,
                                                  true_ring[i].y - true_ring[i - 1].y));
    for (std::size_t i = last; i-- > first + 1;) {
        const double s = along[i - first], rest = along.back() - s;
        const double deep = std::min(depth, std::tan(angle) * std::min(s, rest));
        const Mark &a = true_ring[i - 1], &b = true_ring[i + 1];
        const double t = std::hypot(b.x - a.x, b.y - a.y);
        fat.push_back(off(
            {true_ring[i].x - deep * (b.y - a.y) / t, true_ring[i].y + deep * (b.x - a.x) / t}));
    }
    part("slice", "outline", outline);
    part("fat cap", "fat", fat);
    if (chance(0.4))
        part("bone", "bone", oval({0, -0.4 * half_}, 0.4 * half_, 0.3 * half_, 16));
    if (chance(0.3)) {
        const double w = 3 * half_ * aspect_;
        part("tray", "sealed",
             {{-w, -3 * half_}, {w, -3 * half_}, {w, -0.7 * half_}, {-w, -0.7 * half_}});
    }
}

/// A thin layer of fat between two muscles, both its lines traced by hand; it may start at the
/// skin.
void Hand::seam(bool to_skin) {
    grid_ = std::min(grid_, 0.1);
    const Trace ring = shaken(round(0.05, whole(30, 90)));
    part("slice", "outline", ring);
    const int n = whole(6, 50);
    const double thick = between(0.8, 4), bend = between(-0.3, 0.3) * half_,
                 wave = between(0, 0.1) * half_, reach = between(0.5, 0.7) * half_ * aspect_;
    Trace over, under;
    for (int i = 0; i <= n; ++i) {
        const double t = 2.0 * i / n - 1,
                     y = bend * (1 - t * t) + wave * std::sin(6 * t) - 0.05 * half_;
        const double w =
            thick / 2 *
            (to_skin ? std::min(1.0, 3 * (1 - t)) : std::min(1.0, 3 * (1 - std::abs(t))));
        const Mark low = off({reach * t, y - w}), high = off({reach * t, y + w});
        under.push_back(low);
        over.push_back({high.x, std::max(high.y, low.y + 0.2)});
    }
    Trace fat;
    if (to_skin) { // from a stretch of the outline near the left
        std::size_t at = ring.size() / 2;
        fat = {ring[at - 1], ring[at], ring[at + 1]};
    }
    fat.insert(fat.end(), under.begin(), under.end());
    fat.insert(fat.end(), over.rbegin(), over.rend());
    part("seam", "fat", fat);
    const double y0 = -0.05 * half_;
    if (chance(0.5)) // muscles named on either side, traced along the seam
        part("eye", "lean",
             shaken({{-0.3 * reach, y0 + bend + thick + 0.2 * half_},
                     {0.3 * reach, y0 + bend + thick + 0.2 * half_},
                     {0, y0 + bend + thick + 0.4 * half_}}));
}

/// Bones 0.05 to 3 mm from the skin, from fat and from each other.
void Hand::bones() {
    const Trace ring = shaken(round(0, whole(40, 120)));
    part("slice", "outline", ring);
    const double size = between(0.2, 0.5) * half_, room = between(0.05, 3);
    part("blade", "bone", oval({0, -half_ + shake_ + room + size / 2}, size, size, whole(8, 40)));
    if (chance(0.6)) { // fat beside the bone
        const double gap = between(0.05, 2), low = -half_ + room + size + 3 * shake_ + gap;
        const double w = between(0.3, 0.8) * half_, h = between(1.5, 6);
        part("nut", "fat",
             shaken({{-w, low}, {0, low}, {w, low}, {w, low + h}, {0, low + h}, {-w, low + h}}));
    } else {
        const double gap = between(0.05, 2);
        part("rib", "bone",
             oval({size + 2 * shake_ + gap, -half_ * 0.2 - 0.5 * size}, 0.5 * size, size,
                  whole(8, 30)));
    }
}

/// Long thin pieces, thin sheets of fat on the skin, needles of fat inside.
void Hand::sliver() {
    const double w = between(20, 100), h = between(3, 12);
    const int n = whole(2, 30);
    Trace ring, fat;
    for (int i = 0; i <= n; ++i)
        ring.push_back(off({2 * w * i / n - w, -h / 2}));
    ring.push_back(off({w + between(0, 30), between(-0.5, 0.5) * h}));
    for (int i = n; i >= 0; --i)
        ring.push_back(off({2 * w * i / n - w, h / 2}));
    part("slice", "outline", ring);
    if (chance(0.5)) { // a sheet on top
        const std::size_t first = ring.size() - n - 1, last = ring.size() - 1;
        const double deep = between(0.4, 0.2 * h);
        for (std::size_t i = first; i <= last; ++i)
            fat.push_back(ring[i]);
        for (std::size_t i = last + 1; i-- > first;)
            fat.push_back(off({ring[i].x, h / 2 - shake_ - deep}));
        part("sheet", "fat", fat);
    } else {
        part("needle", "fat",
             {{-0.8 * w, 0},
              {between(0.2, 0.8) * w, -between(0.1, 0.2) * h},
              {between(0.2, 0.8) * w, between(0.05, 0.2) * h}});
    }
}

/// Points given twice or nearly, hooks and loops of the pen, spikes, the end drawn past the start.
void Hand::slips() {
    grid_ = std::min(grid_, 0.1);
    const Trace ring = shaken(round(0.1, whole(20, 80)));
    Trace slipped;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Mark &p = ring[i], &q = ring[(i + 1) % ring.size()];
        const double t = std::hypot(q.x - p.x, q.y - p.y), ux = (q.x - p.x) / t,
                     uy = (q.y - p.y) / t, a = between(0.05, 0.3);
        slipped.push_back(p);
        switch (whole(0, 14)) {
        case 0:
            slipped.push_back(p);
            break;
        case 1:
            slipped.push_back({p.x + 0.01, p.y - 0.01});
            break;
        case 2: // back a little
            slipped.push_back({p.x - a * ux, p.y - a * uy});
            break;
        case 3: // a loop
            slipped.push_back({p.x + a * ux, p.y + a * uy});
            slipped.push_back({p.x + a * uy, p.y - a * ux});
            slipped.push_back({p.x - a * ux - a * uy, p.y - a * uy + a * ux});
            break;
        case 4: // a spike
            slipped.push_back({p.x - a * uy, p.y + a * ux});
            slipped.push_back(p);
            break;
        default:
            break;
        }
    }
    slipped.push_back({ring[0].x + between(-0.2, 0.2), ring[0].y + between(-0.2, 0.2)});
    part("slice", "outline", slipped);
    if (chance(0.5))
        part("bone", "bone", oval({0, 0}, 0.5 * half_, 0.4 * half_, 20));
}

Drawing Hand::draw(int family) {
    std::string what;
    switch (family) {
    case 0:
        what = "smooth";
        part("slice", "outline", shaken(round(0.05, whole(16, 200))));
        part("bone", "bone", oval({0, 0}, 0.4 * half_, 0.3 * half_, whole(8, 40)));
        break;
    case 1:
        what = "hollows";
        part("slice", "outline", shaken(round(0.25, whole(30, 200))));
        break;
    case 2:
        what = "sharp corner", sharp();
        break;
    case 3:
        what = "cap along the outline", cap(false);
        break;
    case 4:
        what = "cap traced again", cap(true);
        break;
    case 5:
        what = "seam", seam(false);
        break;
    case 6:
        what = "seam from the skin", seam(true);
        break;
    case 7:
        what = "bones", bones();
        break;
    case 8:
        what = "sliver", sliver();
        break;
    default:
        what = "slips", slips();
    }
    return {what, table_};
}

} // namespace

Drawing hand_drawn(unsigned seed) {
    return Hand(seed).draw(static_cast<int>(seed) % families);
}

} // namespace tidemark::geometry
