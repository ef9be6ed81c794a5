// SPDX-License-Identifier: MIT
#include "transport/along.hpp"

#include <Eigen/Eigenvalues>

#include <boost/math/special_functions/legendre.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::transport {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// One element from -1 to 1 with the nodes of Gauss and Lobatto.
struct Element {
    VectorXd node, weight;
    MatrixXd stiffness;

    explicit Element(int degree) {
        const Index n = degree;
        // Inner nodes are the zeros of the derivative, by the eigenvalues of its recurrence.
        MatrixXd recurrence = MatrixXd::Zero(n - 1, n - 1);
        for (Index k = 1; k < n - 1; ++k) {
            const double d = static_cast<double>(k);
            recurrence(k - 1, k) = recurrence(k, k - 1) =
                std::sqrt(d * (d + 2) / ((2 * d + 1) * (2 * d + 3)));
        }
        node.setZero(n + 1);
        node[0] = -1;
        node[n] = 1;
        if (n > 1)
            node.segment(1, n - 1) =
                Eigen::SelfAdjointEigenSolver<MatrixXd>(recurrence).eigenvalues();
        const VectorXd high =
            node.unaryExpr([degree](double x) { return boost::math::legendre_p(degree, x); });
        weight = 2. / (degree * (degree + 1)) * high.cwiseAbs2().cwiseInverse();
        MatrixXd slope = MatrixXd::Zero(n + 1, n + 1);
        for (Index i = 0; i <= n; ++i)
            for (Index j = 0; j <= n; ++j)
                if (i != j)
                    slope(i, j) = high[i] / high[j] / (node[i] - node[j]);
        slope.diagonal() = -slope.rowwise().sum();
        stiffness = slope.transpose() * weight.asDiagonal() * slope;
    }
};

/// Nodes on one half of the piece.
class Half {
public:
    explicit Half(Index planes) {
        along.place = along.weight = VectorXd::Zero(planes);
        along.stiffness = MatrixXd::Zero(planes, planes);
    }
    /// An element of 2 x degree about the first plane, folded in it.
    void folded(int degree, double length) {
        const Element e(2 * degree);
        const Index n = degree;
        MatrixXd fold = MatrixXd::Zero(2 * n + 1, n + 1);
        for (Index i = 0; i <= n; ++i)
            fold(n + i, i) = fold(n - i, i) = 1;
        add(0, length * e.node.tail(n + 1), length / 2 * fold.transpose() * e.weight,
            fold.transpose() * e.stiffness * fold / (2 * length));
    }
    /// One from the plane `first` on.
    void element(Index first, int degree, double length) {
        const Element e(degree);
        add(first, (along.place[first] + length / 2 * (1 + e.node.array())).matrix(),
            length / 2 * e.weight, 2 / length * e.stiffness);
    }
    Along along;

private:
    void add(Index first, const VectorXd& place, const VectorXd& weight, const MatrixXd& flow) {
        const Index n = place.size();
        along.place.segment(first, n) = place;
        along.weight.segment(first, n) += weight;
        along.stiffness.block(first, first, n, n) += flow;
    }
};

} // namespace

Along one_plane(double length) {
    Along a;
    a.place = VectorXd::Zero(1);
    a.weight = VectorXd::Constant(1, length);
    a.stiffness = MatrixXd::Zero(1, 1);
    return a;
}

Along along(double reach, double cell, int sides, bool finer) {
    const int times = finer ? 2 : 1;
    Along a;
    // Long pieces stand still in their middle, and change near their ends.
    constexpr double lengthy = 8, end = 4;
    if (reach <= lengthy * cell) {
        const int degree = times * std::min(10, 7 + static_cast<int>(std::ceil(reach / cell / 2)));
        Half half(degree + 1);
        half.folded(degree, reach);
        a = half.along;
    } else {
        const int inner = 2 * times, outer = 8 * times;
        Half half(inner + outer + 1);
        half.folded(inner, reach - end * cell);
        half.element(inner, outer, end * cell);
        a = half.along;
    }
    a.place[0] = 0;
    a.weight *= sides;
    a.stiffness *= sides;
    a.reach = reach;
    a.cell = cell;
    a.sides = sides;
    return a;
}

Modes modes(const Along& a, double pull) {
    const Index n = a.planes() - (std::isinf(pull) ? 1 : 0);
    const VectorXd weight = a.weight.head(n), root = weight.cwiseSqrt().cwiseInverse();
    MatrixXd flow = a.stiffness.topLeftCorner(n, n);
    if (std::isfinite(pull) && pull > 0)
        flow(n - 1, n - 1) += a.sides * pull;
    const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(root.asDiagonal() * flow *
                                                        root.asDiagonal());
    Modes m;
    m.rate = eigen.eigenvalues().cwiseMax(0.0);
    m.shape = root.asDiagonal() * eigen.eigenvectors();
    m.share = m.shape.transpose() * weight;
    // What rounding leaves is nothing: a shut piece at one level stays so.
    const double all = std::sqrt(weight.sum()), fastest = m.rate.maxCoeff();
    for (Index k = 0; k < n; ++k) {
        if (std::abs(m.share[k]) < 1e-10 * all)
            m.share[k] = 0;
        if (m.rate[k] < 1e-12 * fastest)
            m.rate[k] = 0;
    }
    return m;
}

double along_error(const Along& a, double diffused) {
    if (a.planes() == 1)
        return 0;
    const auto level = [&](const Along& planes) {
        const Modes m = modes(planes, std::numeric_limits<double>::infinity());
        const VectorXd left = m.share.cwiseProduct((-diffused * m.rate).array().exp().matrix());
        return std::pair(m.shape.row(0).dot(left), m.share.dot(left) / planes.length());
    };
    const auto [first, mean] = level(a);
    const auto [truly, in_truth] = level(along(a.reach, a.cell, a.sides, true));
    return std::max(std::abs(first - truly), std::abs(mean - in_truth));
}

} // namespace tidemark::transport
