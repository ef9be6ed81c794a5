// SPDX-License-Identifier: MIT
/// Series, their roots by bracketing between neighbouring zeros, and mode expansions.
#include "verification/closed_forms.hpp"

#include <boost/math/constants/constants.hpp>
#include <boost/math/quadrature/gauss.hpp>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/sinc.hpp>
#include <boost/math/tools/roots.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace tidemark::verification {
namespace {

using boost::math::cyl_bessel_j;
using boost::math::cyl_bessel_j_zero;
using boost::math::cyl_neumann;
using std::cos, std::sin, std::exp;
constexpr double pi = boost::math::constants::pi<double>();
constexpr int count = 200; ///< terms; the last has rate 4e5, gone by T = 1e-4

template <class F> double root(F f, double low, double high) {
    std::uintmax_t steps = 200;
    const auto r = boost::math::tools::toms748_solve(
        f, low, high, boost::math::tools::eps_tolerance<double>(52), steps);
    return (r.first + r.second) / 2;
}

/// n-th zero of J_order, with the zero at the origin of J1 as number 0.
double zero(int order, int n) {
    return n == 0 ? 0 : cyl_bessel_j_zero(double(order), n);
}

/// Roots where the surface is held: cos q = 0, J0(q) = 0, sin q = 0.
double held_root(int power, int n) {
    return power == 0 ? (n - 0.5) * pi : power == 1 ? zero(0, n) : n * pi;
}

template <class Term> Series series(const std::vector<double>& roots, Term weight) {
    Series s;
    for (double q : roots)
        s.terms.push_back({q * q, weight(q)});
    return s;
}

/// The first `terms` of them; found once, because maps ask at many places.
std::vector<double> held_roots(int power, int terms) {
    static const auto all = [] {
        std::array<std::vector<double>, 3> q;
        for (int p = 0; p < 3; ++p)
            for (int n = 1; n <= count; ++n)
                q[p].push_back(held_root(p, n));
        return q;
    }();
    return {all[power].begin(), all[power].begin() + terms};
}

/// The mode of a full sheet, cylinder or sphere at X, with value 1 at the centre.
double shape(int power, double q, double X) {
    return power == 0   ? cos(q * X)
           : power == 1 ? cyl_bessel_j(0, q * X)
                        : boost::math::sinc_pi(q * X);
}

} // namespace

double Series::at(double time) const {
    double sum = limit;
    for (const auto& t : terms)
        sum -= t.weight * exp(-t.rate * time);
    return sum;
}

double Series::integral(double time) const {
    double sum = limit * time;
    for (const auto& t : terms)
        sum += t.weight * std::expm1(-t.rate * time) / t.rate;
    return sum;
}

double Series::crossing(double value, double longest) const {
    return root([&](double t) { return at(t) - value; }, longest * 1e-4, longest);
}

Series Series::with_loss(double phi2, double steady) const {
    Series s;
    s.limit = steady;
    for (const auto& t : terms)
        s.terms.push_back({t.rate + phi2, t.weight * t.rate / (t.rate + phi2)});
    return s;
}

Series uptake(int power) { // Crank eqs (4.18), (5.23), (6.20)
    return series(held_roots(power, count), [&](double q) { return 2.0 * (power + 1) / (q * q); });
}

Series profile(int power, double X, int terms) { // Crank eqs (4.17), (5.22), (6.18)
    return series(held_roots(power, terms), [&](double q) {
        const double a = power == 0   ? 2 * sin(q) / q
                         : power == 1 ? 2 / (q * cyl_bessel_j(1, q))
                                      : -2 * cos(q);
        return a * shape(power, q, X);
    });
}

std::vector<double> limited_roots(int power, double alpha, int n) {
    std::vector<double> roots;
    for (int i = 1; i <= n; ++i)
        if (power == 0) // tan q = -alpha q
            roots.push_back(root([&](double q) { return sin(q) + alpha * q * cos(q); },
                                 (i - 0.5) * pi, i * pi));
        else if (power == 1) // alpha q J0(q) + 2 J1(q) = 0
            roots.push_back(root(
                [&](double q) { return alpha * q * cyl_bessel_j(0, q) + 2 * cyl_bessel_j(1, q); },
                zero(0, i), zero(1, i)));
        else // tan q = 3 q / (3 + alpha q^2)
            roots.push_back(
                root([&](double q) { return (3 + alpha * q * q) * sin(q) - 3 * q * cos(q); },
                     i * pi, (i + 0.5) * pi));
    return roots;
}

Series limited_uptake(int power, double alpha) { // Crank eqs (4.37), (5.33), (6.30)
    const double m = power + 1;
    return series(limited_roots(power, alpha, count), [&](double q) {
        const double aq = alpha * q;
        return 2 * m * alpha * (1 + alpha) / (m * m * (1 + alpha) + aq * aq);
    });
}

std::vector<double> film_roots(int power, double L, int n) {
    std::vector<double> roots;
    for (int i = 1; i <= n; ++i)
        if (power == 0) // b tan b = L
            roots.push_back(root([&](double b) { return b * sin(b) - L * cos(b); }, (i - 1) * pi,
                                 (i - 0.5) * pi));
        else if (power == 1) // b J1(b) = L J0(b)
            roots.push_back(
                root([&](double b) { return b * cyl_bessel_j(1, b) - L * cyl_bessel_j(0, b); },
                     zero(1, i - 1), zero(0, i)));
        else // b cot b = 1 - L
            roots.push_back(root([&](double b) { return b * cos(b) - (1 - L) * sin(b); },
                                 (i - 1) * pi + 1e-9, i * pi));
    return roots;
}

Series film_uptake(int power, double L) { // Crank eqs (4.53), (5.49), (6.43)
    return series(film_roots(power, L, count), [&](double b) {
        return 2 * (power + 1) * L * L / (b * b * (b * b + L * L + (1 - power) * L));
    });
}

Series film_profile(int power, double L, double X) { // Crank eqs (4.50), (5.46), (6.40)
    return series(film_roots(power, L, count), [&](double b) {
        const double edge = shape(power, b, 1);
        return 2 * L * shape(power, b, X) / ((b * b + L * L + (1 - power) * L) * edge);
    });
}

double steady_mean(int power, double phi) {
    if (power == 0)
        return std::tanh(phi) / phi;
    if (power == 1)
        return 2 * boost::math::cyl_bessel_i(1, phi) / (phi * boost::math::cyl_bessel_i(0, phi));
    return 3 * (phi / std::tanh(phi) - 1) / (phi * phi);
}

double steady_centre(int power, double phi) {
    return power == 0   ? 1 / std::cosh(phi)
           : power == 1 ? 1 / boost::math::cyl_bessel_i(0, phi)
                        : phi / std::sinh(phi);
}

Modes::Modes(Problem problem, int count_wanted) : p_(std::move(problem)) {
    const double step = p_.gap / 40;
    double a = step * 1e-3, fa = p_.characteristic(a);
    while (static_cast<int>(k_.size()) < count_wanted) {
        const double b = a + step, fb = p_.characteristic(b);
        if (fa * fb <= 0)
            k_.push_back(root(p_.characteristic, a, b));
        a = b;
        fa = fb;
        if (a > 10 * p_.gap * count_wanted)
            throw std::logic_error("the characteristic function has too few roots");
    }
    for (double k : k_) {
        const auto once = [&](double x) { return p_.weight(x) * p_.shape(k, x); };
        const auto twice = [&](double x) { return once(x) * p_.shape(k, x); };
        amplitude_.push_back(integrate(once, p_.breaks.front(), p_.breaks.back()) /
                             integrate(twice, p_.breaks.front(), p_.breaks.back()));
    }
}

double Modes::integrate(const std::function<double(double)>& f, double from, double to) const {
    double sum = 0;
    for (std::size_t i = 0; i + 1 < p_.breaks.size(); ++i) {
        const double a = std::max(from, p_.breaks[i]), b = std::min(to, p_.breaks[i + 1]);
        if (a < b)
            for (int panel = 0; panel < 8; ++panel) // 240 points for some 20 half-waves
                sum += boost::math::quadrature::gauss<double, 30>::integrate(
                    f, a + (b - a) * panel / 8, a + (b - a) * (panel + 1) / 8);
    }
    return sum;
}

Series Modes::at(double x) const {
    Series s;
    for (std::size_t i = 0; i < k_.size(); ++i)
        s.terms.push_back({k_[i] * k_[i], amplitude_[i] * p_.shape(k_[i], x)});
    return s;
}

Series Modes::mean(double from, double to) const {
    const double all = integrate(p_.weight, from, to);
    Series s;
    for (std::size_t i = 0; i < k_.size(); ++i) {
        const auto f = [&](double x) { return p_.weight(x) * p_.shape(k_[i], x); };
        s.terms.push_back({k_[i] * k_[i], amplitude_[i] * integrate(f, from, to) / all});
    }
    return s;
}

Modes two_sheets(const Tissue& inner, const Tissue& outer, bool open, int count_wanted) {
    // rate = k^2; the wave number in a layer is k / sqrt(D). Each half is scaled by the other's
    // value at the join, so u is continuous by construction and the flux gives the characteristic
    // function.
    const double join = inner.thickness, end = join + outer.thickness;
    const double d1 = std::sqrt(inner.diffusivity), d2 = std::sqrt(outer.diffusivity);
    const auto one = [=](double k, double x) { return open ? sin(k * x / d1) : cos(k * x / d1); };
    const auto slope = [=](double k) { return open ? cos(k * join / d1) : -sin(k * join / d1); };
    const auto two = [=](double k, double x) { return sin(k * (end - x) / d2); };
    const double w1 = inner.water, w2 = outer.water;
    return Modes({.characteristic =
                      [=](double k) {
                          return w1 * d1 * slope(k) * two(k, join) +
                                 w2 * d2 * one(k, join) * cos(k * (end - join) / d2);
                      },
                  .shape =
                      [=](double k, double x) {
                          return x < join ? one(k, x) * two(k, join) : one(k, join) * two(k, x);
                      },
                  .weight = [=](double x) { return x < join ? w1 : w2; },
                  .breaks = {0, join, end},
                  .gap = pi / (inner.thickness / d1 + outer.thickness / d2)},
                 count_wanted);
}

Modes two_rounds(const Tissue& inner, const Tissue& outer, int count_wanted) {
    const double join = inner.thickness, end = join + outer.thickness;
    const double d1 = std::sqrt(inner.diffusivity), d2 = std::sqrt(outer.diffusivity);
    const double w1 = inner.water, w2 = outer.water;
    const auto one = [=](int order, double k, double r) { return cyl_bessel_j(order, k * r / d1); };
    const auto two = [=](int order, double k, double r) { // zero at the surface for order 0
        return cyl_bessel_j(order, k * r / d2) * cyl_neumann(0, k * end / d2) -
               cyl_neumann(order, k * r / d2) * cyl_bessel_j(0, k * end / d2);
    };
    return Modes({.characteristic =
                      [=](double k) {
                          return w1 * d1 * one(1, k, join) * two(0, k, join) -
                                 w2 * d2 * one(0, k, join) * two(1, k, join);
                      },
                  .shape =
                      [=](double k, double r) {
                          return r < join ? one(0, k, r) * two(0, k, join)
                                          : one(0, k, join) * two(0, k, r);
                      },
                  .weight = [=](double r) { return r * (r < join ? w1 : w2); },
                  .breaks = {0, join, end},
                  .gap = pi / (inner.thickness / d1 + outer.thickness / d2)},
                 count_wanted);
}

Modes tube(double a, double b, double diffusivity, int count_wanted) {
    const double d = std::sqrt(diffusivity);
    const auto shape = [=](double k, double r) { // slope zero at a
        return cyl_bessel_j(0, k * r / d) * cyl_neumann(1, k * a / d) -
               cyl_neumann(0, k * r / d) * cyl_bessel_j(1, k * a / d);
    };
    return Modes({.characteristic = [=](double k) { return shape(k, b); },
                  .shape = shape,
                  .weight = [](double r) { return r; },
                  .breaks = {a, b},
                  .gap = pi * d / (b - a)},
                 count_wanted);
}

} // namespace tidemark::verification
