// SPDX-License-Identifier: MIT
/// Exact solutions of the diffusion problems that have one, to check the solvers against. The forms
/// are those of Crank, The Mathematics of Diffusion (2nd ed. 1975), ch. 4 (plane sheet), 5
/// (cylinder) and 6 (sphere), of Carslaw & Jaeger, Conduction of Heat in Solids (2nd ed. 1959), and
/// of Danckwerts (Trans. Faraday Soc. 47 (1951) 1014) for the first-order loss; the citations are
/// from memory. Every root and zero is found here by Boost.Math. Nothing is taken from the code
/// under test. Concentrations are over the bath's partition x strength, so they run from 0 to 1.
/// `power` is 0 for sheet, 1 for cylinder, 2 for sphere; T = D t / l^2 with l the half-thickness or
/// radius; X = x / l.
#pragma once

#include <functional>
#include <vector>

namespace tidemark::verification {

/// limit - sum weight exp(-rate T).
struct Series {
    struct Term {
        double rate = 0, weight = 0;
    };
    double limit = 1;
    std::vector<Term> terms;

    double at(double time) const;
    double integral(double time) const; ///< from 0 to `time`
    /// Time at which it reaches `value`; the series must rise through it.
    double crossing(double value, double longest) const;
    /// The same with a first-order loss of k = phi2 in units of 1/T (Danckwerts' transform of a
    /// solution with constant bath): `steady` is the exact limit with the loss.
    Series with_loss(double phi2, double steady) const;
};

/// Surface held at 1: the mean (uptake), and the value at X. 200 terms serve from T = 1e-4 on; 20
/// from T = 0.01 on, for maps.
Series uptake(int power);
Series profile(int power, double X, int terms = 200);
/// Well-stirred bath of limited volume, alpha = bath water over (partition x tissue water): uptake
/// over the final uptake.
Series limited_uptake(int power, double alpha);
/// Film with Biot number L over a held bath: mean, and value at X.
Series film_uptake(int power, double L);
Series film_profile(int power, double L, double X);
/// Steady state with loss, phi^2 = k l^2 / D, surface held at 1.
double steady_mean(int power, double phi);
double steady_centre(int power, double phi);

/// Roots whose printed values are known, for checking the root finder: of the limited-volume and
/// the film problem, `n` of them in rising order.
std::vector<double> limited_roots(int power, double alpha, int n);
std::vector<double> film_roots(int power, double L, int n);

/// Expansion in the modes of a one-dimensional problem in several pieces: u(x, t) = 1 - sum A X(x)
/// exp(-rate t), started from 0, with weight w(x) (water, times r for cylinders). The integrals are
/// done by Gauss-Legendre between the breaks, so only the modes themselves come from theory. For 20
/// modes or so.
class Modes {
public:
    struct Problem {
        std::function<double(double k)> characteristic; ///< zero where rate = k^2 belongs to a mode
        std::function<double(double k, double x)> shape;
        std::function<double(double x)> weight;
        std::vector<double> breaks; ///< ends and joins, ascending
        double gap = 0;             ///< typical distance of neighbouring k
    };
    Modes(Problem problem, int count);
    Series at(double x) const;
    Series mean(double from, double to) const;

private:
    double integrate(const std::function<double(double)>& f, double from, double to) const;
    Problem p_;
    std::vector<double> k_, amplitude_;
};

/// A layer of thickness [m], diffusivity [m2/s] and water [kg/m3].
struct Tissue {
    double thickness, diffusivity, water;
};
/// Two sheets in series; `inner` begins at x = 0, sealed there unless `open`, and `outer` ends at
/// the bath. Time in s, x in m. Carslaw & Jaeger ch. XII (composite slab).
Modes two_sheets(const Tissue& inner, const Tissue& outer, bool open, int count);
/// A long round of two tissues: `inner` about the axis, `outer` around it, held surface. (C & J ch.
/// XII.)
Modes two_rounds(const Tissue& inner, const Tissue& outer, int count);
/// A tube with its inner wall (radius a) sealed and its outer wall (radius b) held: the cross
/// product of J0, Y1 (C & J ch. VII).
Modes tube(double a, double b, double diffusivity, int count);

} // namespace tidemark::verification
