// SPDX-License-Identifier: MIT
#include "transport/prism.hpp"

#include "base/error.hpp"

#include <Eigen/Eigenvalues>

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::transport {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

/// The factor between two sections' flows, 0 where there is none for all.
double speed_of(const Eigen::SparseMatrix<double>& a, const VectorXd& along_a,
                const Eigen::SparseMatrix<double>& b, const VectorXd& along_b) {
    if (a.nonZeros() != b.nonZeros() || a.nonZeros() == 0)
        return 0;
    const Eigen::Map<const VectorXd> x(a.valuePtr(), a.nonZeros()), y(b.valuePtr(), b.nonZeros());
    const double speed = y[0] / x[0], rounding = 1e-12 * y.cwiseAbs().maxCoeff();
    const bool same =
        (y - speed * x).cwiseAbs().maxCoeff() < rounding &&
        (along_b - speed * along_a).cwiseAbs().maxCoeff() < 1e-12 * along_b.cwiseAbs().maxCoeff();
    return same ? speed : 0;
}

/// Of a space, those that tell what error it had without them.
constexpr Index last_vectors = 5;

} // namespace

Reduction::Space::Space(std::shared_ptr<const MatrixXd> b, const MatrixXd& flow)
    : basis(std::move(b)), all(flow),
      fewer(flow.topLeftCorner(std::max<Index>(1, flow.rows() - last_vectors),
                               std::max<Index>(1, flow.rows() - last_vectors))) {}

Reduction::Reduction(const Whole& w, double first, double last, double tolerance,
                     const Reduction* donor)
    : first_(donor ? donor->first_ : first), last_(donor ? donor->last_ : last),
      tolerance_(tolerance), nodes_(w.section.bath()), lengthwise_(w.lengthwise) {
    const System &whole = w.system, &section = w.section;
    const Index n = nodes_, count = w.modes.planes(), bath = whole.bath();
    const double loss = section.loss[0];
    if ((section.loss.head(n).array() - loss).abs().maxCoeff() > 1e-12 * loss)
        throw base::RunError("a whole piece is solved with one loss in all of its tissues");
    conductance_ = section.conductance.topLeftCorner(n, n);
    const VectorXd water = section.capacity.head(n),
                   wall = -VectorXd(section.conductance.col(n).head(n));
    shape_ = w.modes.shape;
    const Eigen::Map<const MatrixXd> start(whole.initial.data(), n, count);
    const VectorXd planes = w.along.weight.head(count);
    double reference = whole.initial[bath]; // of the bath, that its pull is in the spaces
    if (reference == 0 && !whole.held)
        reference = whole.initial.cwiseAbs().maxCoeff();
    const double scale =
        std::max(std::sqrt(whole.initial.cwiseAbs2().head(bath).dot(whole.capacity.head(bath))),
                 std::abs(reference) * std::sqrt(whole.capacity.head(bath).sum()));

    Factor factor;
    factor.analyzePattern(conductance_);
    const bool alike = donor && donor->nodes_ == n && donor->shape_.cols() == count;
    const double speed =
        alike ? speed_of(donor->conductance_, donor->lengthwise_, conductance_, lengthwise_) : 0;
    std::vector<Eigen::Triplet<double>> entries;
    std::vector<VectorXd> rates, starts, evens, pulls;
    Index amplitudes = 0;
    double tip = 0, errors = 0;
    // In one tissue all modes differ by a loss: the first one's space is that of all, if they begin
    // alike.
    const double conductivity = w.lengthwise.sum() / water.sum();
    const bool one_tissue = (w.lengthwise - conductivity * water).cwiseAbs().maxCoeff() <
                                1e-12 * w.lengthwise.maxCoeff() &&
                            (start.colwise() - start.col(0)).cwiseAbs().maxCoeff() == 0;
    for (Index k = 0; k < count; ++k) {
        const double share = w.modes.share[k];
        const VectorXd along = w.modes.rate[k] * w.lengthwise, pull = wall + along;
        tip += share * share * pull.sum();
        Linear p{conductance_,
                 loss * water,
                 water,
                 start * planes.cwiseProduct(w.modes.shape.col(k)),
                 reference * share * pull,
                 VectorXd::Ones(n),
                 true,
                 scale,
                 whole.held ? whole.bath_loss : 0};
        p.links.diagonal() += along;
        Mode mode;
        mode.first = amplitudes;
        const double size = std::sqrt(p.start.cwiseAbs2().dot(water));
        if (share != 0 || size > 1e-12 * scale) {
            if (size <= 1e-12 * scale)
                p.start.setZero();
            if (const auto at = static_cast<std::size_t>(k); alike && donor->modes_[at].space) {
                Space space = *donor->modes_[at].space;
                if (speed > 0) {
                    space.all = space.all * speed;
                    space.fewer = space.fewer * speed;
                } else {
                    space = {space.basis, space.basis->transpose() * (p.links * *space.basis)};
                }
                mode.space = fit(std::move(space), p, loss);
            } else if (one_tissue && k > 0 && modes_.front().space) {
                Space space = *modes_.front().space;
                const double more = (w.modes.rate[k] - w.modes.rate[0]) * conductivity;
                space.all = space.all + more;
                space.fewer = space.fewer + more;
                mode.space = fit(std::move(space), p, loss);
            }
            if (!mode.space) {
                // What planes tell apart is coarser than the section.
                Krylov grown = grow(p, first_, last_, k > 0 ? 10 * tolerance : tolerance, factor);
                errors += grown.error * grown.error;
                grown.T.diagonal().array() -= loss;
                mode.space = Space(std::make_shared<MatrixXd>(std::move(grown.basis)), grown.T);
            }
            const MatrixXd& basis = *mode.space->basis;
            const auto in_space = [&](const VectorXd& x) -> VectorXd {
                return mode.space->all.vectors->transpose() * (basis.transpose() * x);
            };
            rates.emplace_back(mode.space->all.rates.cwiseMax(0.0));
            starts.push_back(in_space(water.cwiseProduct(p.start)));
            evens.push_back(share * in_space(water));
            pulls.push_back(share * in_space(pull));
            amplitudes += basis.cols();
        }
        modes_.push_back(std::move(mode));
    }
    error = std::max(error, std::sqrt(errors));

    System& s = system;
    s.held = whole.held;
    s.partition = whole.partition;
    s.bath_capacity = whole.bath_capacity;
    s.bath_loss = whole.bath_loss;
    s.capacity = s.even = VectorXd::Ones(amplitudes + 1);
    s.loss = VectorXd::Constant(amplitudes + 1, loss);
    s.initial = VectorXd::Zero(amplitudes + 1);
    s.capacity[amplitudes] = whole.capacity[bath];
    s.loss[amplitudes] = whole.loss[bath];
    s.initial[amplitudes] = whole.initial[bath];
    entries.emplace_back(amplitudes, amplitudes, tip);
    Index at = 0;
    for (std::size_t k = 0; k < rates.size(); ++k)
        for (Index i = 0; i < rates[k].size(); ++i, ++at) {
            entries.emplace_back(at, at, rates[k][i]);
            entries.emplace_back(at, amplitudes, -pulls[k][i]);
            entries.emplace_back(amplitudes, at, -pulls[k][i]);
            s.initial[at] = starts[k][i];
            s.even[at] = evens[k][i];
        }
    s.conductance.resize(amplitudes + 1, amplitudes + 1);
    s.conductance.setFromTriplets(entries.begin(), entries.end());
}

std::optional<Reduction::Space> Reduction::fit(Space space, const Linear& p, double loss) {
    const MatrixXd& basis = *space.basis;
    const Index fewer = basis.cols() - last_vectors;
    const VectorXd start = basis.transpose() * p.water.cwiseProduct(p.start);
    const VectorXd missed = p.start - basis * start;
    if (fewer < 1 || std::sqrt(missed.cwiseAbs2().dot(p.water)) > tolerance_ * p.scale)
        return std::nullopt;
    const VectorXd source = basis.transpose() * p.source;
    const auto small = [&](const Spectral& s) {
        const Index n = s.rates.size();
        return Small(s + loss, start.head(n), source.head(n), p.decay);
    };
    const Small fine = small(space.all), coarse = small(space.fewer);
    double found = 0;
    for (const double t : {first_, std::sqrt(first_ * last_), last_}) {
        VectorXd d = fine.at(t);
        d.head(fewer) -= coarse.at(t);
        found = std::max(found, d.norm() / p.scale);
    }
    if (!(found < 10 * tolerance_))
        return std::nullopt;
    error = std::max(error, found);
    return space;
}

template <class By, class Add>
void Reduction::each_basis(const VectorXd& a, const By& by, const Add& add) const {
    for (std::size_t k = 0; k < modes_.size();) {
        if (!modes_[k].space) {
            ++k;
            continue;
        }
        const MatrixXd& basis = *modes_[k].space->basis;
        auto sum =
            (*modes_[k].space->all.vectors * a.segment(modes_[k].first, basis.cols()) * by(k))
                .eval();
        for (++k; k < modes_.size() && modes_[k].space && modes_[k].space->basis.get() == &basis;
             ++k)
            sum += *modes_[k].space->all.vectors * a.segment(modes_[k].first, basis.cols()) * by(k);
        add(basis, sum);
    }
}

VectorXd Reduction::front(const VectorXd& a) const {
    VectorXd u = VectorXd::Zero(nodes_ + 1);
    each_basis(
        a, [&](std::size_t k) { return shape_(0, static_cast<Index>(k)); },
        [&](const MatrixXd& basis, const VectorXd& sum) {
            u.head(nodes_).noalias() += basis * sum;
        });
    u[nodes_] = a[a.size() - 1];
    return u;
}

VectorXd Reduction::planes(const VectorXd& a) const {
    const Index count = shape_.rows();
    VectorXd u = VectorXd::Zero(nodes_ * count + 1);
    Eigen::Map<MatrixXd> on(u.data(), nodes_, count);
    each_basis(
        a, [&](std::size_t k) { return shape_.col(static_cast<Index>(k)).transpose(); },
        [&](const MatrixXd& basis, const MatrixXd& sum) { on.noalias() += basis * sum; });
    u[nodes_ * count] = a[a.size() - 1];
    return u;
}

VectorXd Reduction::weights(const VectorXd& w) const {
    const Index count = shape_.rows();
    const Eigen::Map<const MatrixXd> on(w.data(), nodes_, count);
    VectorXd own = VectorXd::Zero(system.capacity.size());
    for (std::size_t k = 0; k < modes_.size(); ++k)
        if (const Mode& m = modes_[k]; m.space)
            own.segment(m.first, m.space->basis->cols()) =
                m.space->all.vectors->transpose() *
                (m.space->basis->transpose() * (on * shape_.col(static_cast<Index>(k))));
    own[own.size() - 1] = w[w.size() - 1];
    return own;
}

State Prism::at(double t) const {
    const State s = amplitudes_->at(t);
    return {reduction_->planes(s.free), reduction_->planes(s.dose)};
}

VectorXd Prism::arrived(double t, double loss) const {
    return reduction_->planes(amplitudes_->arrived(t, loss));
}

VectorXd Prism::front(double t, double loss) const {
    return reduction_->front(amplitudes_->arrived(t, loss));
}

History::Follower Prism::follow(const VectorXd& weights) const {
    return amplitudes_->follow(reduction_->weights(weights));
}

} // namespace tidemark::transport
