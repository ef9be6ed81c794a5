// SPDX-License-Identifier: MIT
/// Slices made up by another program than the one that judges them: an explicit finite-difference
/// rectangle with causes of its own. How often the remedy named first is the right one, and whether
/// probabilities are kept. Says nothing of real kitchens; how often causes are met is
/// models/causes.ini's word.
#include "cure/two_meshes.hpp"
#include "inference/why.hpp"
#include "validation/score.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <string>
#include <vector>

namespace test_why_slices {

namespace {

using namespace tidemark;
using namespace tidemark::inference;

constexpr double height = 0.07, width = 0.12, kelvin = 277.15; ///< as told
constexpr int each = 17, by_share = 400;

/// The same invented block as in test_why.cpp.
cure::Case block() {
    cure::Case c;
    c.piece.shape = "block";
    c.piece.dimensions.thickness = height;
    c.piece.dimensions.width = width;
    c.brine.salt = 0.05;
    c.brine.nitrite = 150e-6;
    c.cells = 16;
    return c;
}

/// Nitrite in a rectangle of lean in a brine that keeps its strength: cells of equal size, forward
/// steps in time. Values over what the brine would bring as told.
struct Rectangle {
    double high = height, wide = width; ///< [m]
    double diffusivity = 0, loss = 0;   ///< [m2/s], [1/s]
    double brine = 1, need = 0;
    std::string shut; ///< a face that lies on something, but for
    double creep = 0; ///< [m] so far in from its ends
    double fat = 0;   ///< [m] on top

    static constexpr int rows = 42, columns = 60;
    using Field = std::array<std::array<double, columns>, rows>; ///< row 0 at the bottom
    Field free{}, arrived{};

    double dy() const { return high / rows; }
    double dx() const { return wide / columns; }
    /// Water of a row and how easily nitrite passes it, over lean: fat holds a seventh and lets
    /// through a twentieth.
    bool is_fat(int row) const { return (rows - row - 0.5) * dy() < fat; }
    double water(int row) const { return is_fat(row) ? 1. / 7 : 1; }
    double ease(int row) const { return is_fat(row) ? 1. / 20 : 1; }

    /// Steps of `dt` [s], short enough to be stable.
    void follow(double time) {
        const double a = diffusivity / (dx() * dx()), b = diffusivity / (dy() * dy());
        const int steps = static_cast<int>(std::ceil(time * 2.2 * (2 * a + 2 * b)));
        const double dt = time / steps;
        const auto shared = [](double p, double q) { return 2 * p * q / (p + q); };
        for (int s = 0; s < steps; ++s) {
            Field next = free;
            for (int r = 0; r < rows; ++r)
                for (int c = 0; c < columns; ++c) {
                    const double u = free[r][c], e = ease(r);
                    // A face is half a cell away.
                    const auto face = [&](const char* name, double along, double length) {
                        const double in = std::min(along, length - along); // from its nearer end
                        return shut == name && in > creep ? 0.0 : 2 * e * (brine - u);
                    };
                    const double x = (c + 0.5) * dx(), y = (r + 0.5) * dy();
                    const double up = r + 1 < rows ? shared(e, ease(r + 1)) * (free[r + 1][c] - u)
                                                   : face("top", x, wide),
                                 down = r > 0 ? shared(e, ease(r - 1)) * (free[r - 1][c] - u)
                                              : face("bottom", x, wide),
                                 east = c + 1 < columns ? e * (free[r][c + 1] - u)
                                                        : face("right", y, high),
                                 west = c > 0 ? e * (free[r][c - 1] - u) : face("left", y, high);
                    next[r][c] +=
                        dt * ((a * (east + west) + b * (up + down)) / water(r) - loss * u);
                    arrived[r][c] += dt * loss * u;
                }
            free = next;
        }
    }
    double at(int r, int c) const { return free[r][c] + arrived[r][c]; }
    bool pink() const {
        for (int r = 0; r < rows; ++r)
            for (int c = 0; c < columns; ++c)
                if (!is_fat(r) && at(r, c) < need)
                    return false;
        return true;
    }
    /// Rings and core on the lines through the middle, in lean [m].
    Slice slice() const {
        std::vector<double> up, across;
        for (int r = 0; r < rows; ++r)
            if (!is_fat(r))
                up.push_back(0.5 * (at(r, columns / 2) + at(r, columns / 2 - 1)));
        for (int c = 0; c < columns; ++c)
            across.push_back(0.5 * (at(rows / 2, c) + at(rows / 2 - 1, c)));
        const auto depth = [&](std::vector<double> line, double step) {
            std::size_t k = 0;
            while (k < line.size() && line[k] >= need)
                ++k;
            const double part = k == 0 || k == line.size()
                                    ? 0
                                    : (line[k - 1] - need) / (line[k - 1] - line[k]) - 0.5;
            return std::max(0.0, (static_cast<double>(k) + part) * step);
        };
        const auto other = [](std::vector<double> line) {
            std::ranges::reverse(line);
            return line;
        };
        Slice s;
        s.bottom = depth(up, dy());
        s.top = depth(other(up), dy());
        s.left = depth(across, dx());
        s.right = depth(other(across), dx());
        s.core_height = std::max(0.0, static_cast<double>(up.size()) * dy() - *s.top - *s.bottom);
        s.core_width = std::max(0.0, wide - *s.left - *s.right);
        return s;
    }
};

/// Pieces of one cause, with dice of their own.
class Kitchen {
public:
    Kitchen(const cure::Outcome& told, base::Records r) {
        const cure::Setup& setup = told.solved->setup();
        usual_.diffusivity = r.si("muscle.pork-loin.diffusivity");
        usual_.loss = setup.tissues.at("lean").nitrite.loss;
        usual_.need = told.first().target / setup.tissues.at("lean").water_fraction /
                      (setup.nitrite_bath.partition * setup.nitrite_bath.concentration);
    }
    Rectangle piece(const std::string& cause) {
        Rectangle p = usual_;
        // As the spreads of the records have it.
        p.diffusivity *= std::exp(std::log(1.35) * normal());
        p.loss *= std::exp(std::log(1.8) * normal());
        p.need *= std::exp(std::log(1.35) * normal());
        double colder = -1.0 * normal(), thicker = 1 + 0.003 / height * normal();
        if (cause == "thicker")
            thicker *= between(1.07, 1.28);
        else if (cause == "colder")
            colder += between(1.5, 5);
        else if (cause == "weak-brine")
            p.brine = between(0.3, 0.75);
        else if (cause == "little-premix")
            p.brine = between(0.15, 0.7);
        else if (cause == "fast-loss")
            p.loss *= between(2.5, 7);
        else if (cause == "dark-meat") {
            p.diffusivity *= between(0.5, 0.9);
            p.loss *= between(0.3, 0.7);
        } else if (cause == "fat")
            p.fat = between(0.004, 0.014);
        else if (cause.ends_with("-shut")) { // brine creeps under its edges
            p.shut = cause.substr(0, cause.find('-'));
            p.creep = between(0, 0.012);
        }
        const auto slower = [&](double energy) {
            return std::exp(energy / 8.314 * (1 / kelvin - 1 / (kelvin - colder)));
        };
        p.diffusivity *= slower(25e3);
        p.loss *= slower(70e3);
        p.high *= thicker;
        p.wide *= thicker;
        return p;
    }
    /// With the errors of a ruler and of an eye.
    Slice read(Slice s) {
        const double edge = 1.25e-3 * normal(), own = 2.17e-3; // a quarter of 2.5^2, and the rest
        for (auto ring : {&Slice::top, &Slice::bottom, &Slice::left, &Slice::right})
            s.*ring = std::max(0.0, *(s.*ring) + edge + own * normal());
        s.core_height = *s.core_height - 2 * edge + own * normal();
        s.core_width = *s.core_width - 2 * edge + 6.4e-3 * normal();
        return s;
    }
    double between(double low, double high) {
        return std::uniform_real_distribution<>(low, high)(dice_);
    }

private:
    double normal() { return std::normal_distribution<>()(dice_); }
    Rectangle usual_;
    std::mt19937 dice_{20261126};
};

struct Seen {
    Slice slice;
    Remedy right;
};

/// A slice with grey in it, and what would have been right; none where it is pink.
std::optional<Seen> seen(Kitchen& kitchen, const std::string& cause, double time) {
    Rectangle p = kitchen.piece(cause);
    p.follow(time);
    const Slice slice = kitchen.read(p.slice());
    if (p.pink() || *slice.core_height <= 0 || *slice.core_width <= 0)
        return {};
    Remedy right = Remedy::longer;
    if (cause == "weak-brine" || cause == "little-premix")
        right = Remedy::brine;
    else if (cause == "fat" || cause.ends_with("-shut"))
        right = Remedy::reach;
    else {
        p.follow((too_long - 1) * time);
        right = p.pink() ? Remedy::longer : Remedy::needles;
    }
    return Seen{slice, right};
}

std::string filled(std::string text, std::size_t wide, bool left = false) {
    const std::string space(wide > text.size() ? wide - text.size() : 0, ' ');
    return left ? text + space : space + text;
}

} // namespace

TEST_CASE("the rectangle of the test is a diffusion", "[validation]") {
    // A wide rectangle of 40 mm without loss, against the series of a sheet at Fo = 0.2:
    // mid-plane 1 - 4/pi (e^(-pi2 Fo/4) - e^(-9 pi2 Fo/4)/3) = 0.2277 (closed form).
    Rectangle p;
    p.high = 0.04;
    p.wide = 4;
    p.diffusivity = 2e-10;
    p.follow(0.2 * 0.02 * 0.02 / p.diffusivity);
    const double fo = 0.2, pi2 = M_PI * M_PI;
    const double exact = 1 - 4 / M_PI * (std::exp(-pi2 * fo / 4) - std::exp(-9 * pi2 * fo / 4) / 3);
    CHECK(p.at(Rectangle::rows / 2, Rectangle::columns / 2) == Approx(exact).margin(0.002));
}

TEST_CASE("the remedy named first is right for three slices in four", "[validation]") {
    const auto records = base::Records::built_in();
    const cure::Outcome told = cure::run(cure::in_brine(block()), records);
    const double time = 0.9 * *told.first().cured; // near cured, if all was as told
    const Inquiry inquiry(told, records, time);
    Kitchen kitchen(told, records);

    std::string score = "                 the remedy named first             right   mean\n"
                        "planted cause    reach  brine  ndles  longer  none   first  prob.\n";
    int right = 0, count = 0;
    for (const Suspect& s : inquiry.suspects()) {
        std::array<int, remedy_count> named{};
        int own = 0;
        double said = 0;
        for (int n = 0; n < each;) {
            const auto one = seen(kitchen, s.text.name, time);
            if (!one)
                continue;
            ++n;
            const auto p = inquiry.remedies(one->slice);
            const auto first = static_cast<std::size_t>(std::ranges::max_element(p) - p.begin());
            ++named[first];
            own += first == static_cast<std::size_t>(one->right);
            said += p[static_cast<std::size_t>(one->right)] / each;
        }
        score += filled(s.text.name, 15, true);
        for (const int k : named)
            score += filled(std::to_string(k), 7);
        score += filled(std::to_string(own), 9) + filled(validation::fixed(said, 2), 7) + '\n';
        right += own;
        count += each;
    }
    score += "right first: " + std::to_string(right) + " of " + std::to_string(count) + "\n\n";

    // Whether what is said at 70 % is so in 70 of 100: pieces by the shares of causes.ini, all five
    // remedies of each slice.
    struct Bin {
        double said = 0;
        int so = 0, count = 0;
    };
    std::array<Bin, 5> bins{};
    for (int n = 0; n < by_share;) {
        double at = kitchen.between(0, 1);
        const Suspect* cause = &inquiry.suspects().front();
        for (const Suspect& s : inquiry.suspects()) {
            cause = &s;
            if ((at -= s.prior) < 0)
                break;
        }
        const auto one = seen(kitchen, cause->text.name, time);
        if (!one)
            continue;
        ++n;
        const auto p = inquiry.remedies(one->slice);
        for (std::size_t r = 0; r < remedy_count; ++r) {
            Bin& bin = bins[p[r] < 0.05   ? 0
                            : p[r] < 0.3  ? 1
                            : p[r] < 0.7  ? 2
                            : p[r] < 0.95 ? 3
                                          : 4];
            bin.said += p[r];
            bin.so += r == static_cast<std::size_t>(one->right);
            ++bin.count;
        }
    }
    score += "probability said    below 5  5-30  30-70  70-95  above\n";
    std::string said = "mean said, %   ", so = "came true, %   ", cases = "remedies       ";
    for (const Bin& b : bins) {
        said += filled(validation::fixed(100 * b.said / b.count, 0), 8);
        so += filled(validation::fixed(100. * b.so / b.count, 0), 8);
        cases += filled(std::to_string(b.count), 8);
        // Three standard errors of the share, and five in a hundred for the other model.
        const double share = b.said / b.count;
        CHECK(static_cast<double>(b.so) / b.count ==
              Approx(share).margin(0.05 + 3 * std::sqrt(share * (1 - share) / b.count)));
    }
    score += said + '\n' + so + '\n' + cases + '\n';
    validation::show("why", score);
    CHECK(right >= 0.75 * count); // asked for
}

} // namespace test_why_slices
