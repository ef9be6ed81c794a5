// SPDX-License-Identifier: MIT
#include "transport/prism.hpp"

#include "base/error.hpp"
#include "base/side_by_side.hpp"

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

} // namespace

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

    const bool alike = donor && donor->nodes_ == n && donor->shape_.cols() == count;
    const double speed =
        alike ? speed_of(donor->conductance_, donor->lengthwise_, conductance_, lengthwise_) : 0;
    // In one tissue all modes differ by a loss: the first one's space is that of all, if they begin
    // alike.
    const double conductivity = w.lengthwise.sum() / water.sum();
    const bool one_tissue = (w.lengthwise - conductivity * water).cwiseAbs().maxCoeff() <
                                1e-12 * w.lengthwise.maxCoeff() &&
                            (start.colwise() - start.col(0)).cwiseAbs().maxCoeff() == 0;
    const auto pull = [&](Index k) -> VectorXd { return wall + w.modes.rate[k] * w.lengthwise; };
    // Without its links.
    const auto linear = [&](Index k) {
        Linear p{{},
                 loss * water,
                 water,
                 start * planes.cwiseProduct(w.modes.shape.col(k)),
                 reference * w.modes.share[k] * pull(k),
                 VectorXd::Ones(n),
                 true,
                 scale,
                 whole.held ? whole.bath_loss : 0};
        if (std::sqrt(p.start.cwiseAbs2().dot(water)) <= 1e-12 * scale)
            p.start.setZero();
        return p;
    };
    const auto links = [&](Index k) {
        Eigen::SparseMatrix<double> all = conductance_;
        all.diagonal() += w.modes.rate[k] * w.lengthwise;
        return all;
    };
    modes_.resize(static_cast<std::size_t>(count));
    std::vector<Linear> problems;
    problems.reserve(modes_.size());
    std::vector<std::size_t> alone; // modes that need a space of their own
    for (Index k = 0; k < count; ++k) {
        const Linear& p = problems.emplace_back(linear(k));
        const auto at = static_cast<std::size_t>(k);
        std::optional<Space>& space = modes_[at].space;
        if (w.modes.share[k] == 0 && p.start.isZero(0))
            continue;
        if (alike && donor->modes_[at].space) {
            space = *donor->modes_[at].space;
            space->flow = speed > 0
                              ? space->flow * speed
                              : Spectral(space->basis->transpose() * (links(k) * *space->basis));
            if (fits(*space, p, loss))
                continue;
        }
        space.emplace();
        alone.push_back(at);
    }
    std::vector<double> errors(alone.size());
    const auto grown = [&](std::size_t k, Factor& factor) {
        problems[k].links = links(static_cast<Index>(k));
        // What planes tell apart is coarser than the section.
        Krylov own = grow(problems[k], first_, last_, k > 0 ? 10 * tolerance : tolerance, factor);
        own.T.diagonal().array() -= loss;
        modes_[k].space = Space{std::make_shared<MatrixXd>(std::move(own.basis)), Spectral(own.T)};
        return own.error;
    };
    if (one_tissue && alone.size() > 1 && alone.front() == 0) {
        Factor factor(conductance_);
        errors[0] = grown(0, factor);
        std::erase_if(alone, [&](std::size_t k) {
            if (k == 0)
                return true;
            Space& space = *modes_[k].space;
            space = *modes_[0].space;
            space.flow =
                space.flow + (w.modes.rate[static_cast<Index>(k)] - w.modes.rate[0]) * conductivity;
            return fits(space, problems[k], loss);
        });
    }
    const std::size_t before = errors.size() - alone.size();
    const std::size_t hands = std::min(alone.size(), base::hands());
    base::side_by_side(hands, [&](std::size_t hand) {
        Factor factor(conductance_);
        for (std::size_t i = hand; i < alone.size(); i += hands)
            errors[before + i] = grown(alone[i], factor);
    });
    error = std::max(error, std::sqrt(Eigen::Map<const VectorXd>(errors.data(),
                                                                 static_cast<Index>(errors.size()))
                                          .squaredNorm()));

    std::vector<Eigen::Triplet<double>> entries;
    Index amplitudes = 0;
    for (const Mode& mode : modes_)
        amplitudes += mode.space ? mode.space->basis->cols() : 0;
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
    double tip = 0;
    Index at = 0;
    for (std::size_t k = 0; k < modes_.size(); ++k) {
        const double share = w.modes.share[static_cast<Index>(k)];
        const VectorXd of_bath = pull(static_cast<Index>(k));
        tip += share * share * of_bath.sum();
        Mode& mode = modes_[k];
        mode.first = at;
        if (!mode.space)
            continue;
        const auto in_space = [&](const VectorXd& x) -> VectorXd {
            return mode.space->flow.vectors->transpose() * (mode.space->basis->transpose() * x);
        };
        const Index size = mode.space->basis->cols();
        const VectorXd pulls = share * in_space(of_bath);
        s.initial.segment(at, size) = in_space(water.cwiseProduct(problems[k].start));
        s.even.segment(at, size) = share * in_space(water);
        for (Index i = 0; i < size; ++i, ++at) {
            entries.emplace_back(at, at, std::max(0.0, mode.space->flow.rates[i]));
            entries.emplace_back(at, amplitudes, -pulls[i]);
            entries.emplace_back(amplitudes, at, -pulls[i]);
        }
    }
    entries.emplace_back(amplitudes, amplitudes, tip);
    s.conductance.resize(amplitudes + 1, amplitudes + 1);
    s.conductance.setFromTriplets(entries.begin(), entries.end());
}

bool Reduction::fits(const Space& space, const Linear& p, double loss) {
    const MatrixXd& basis = *space.basis;
    const VectorXd start = basis.transpose() * p.water.cwiseProduct(p.start),
                   missed = p.start - basis * start;
    if (std::sqrt(missed.cwiseAbs2().dot(p.water)) > tolerance_ * p.scale)
        return false;
    const double found = Small(space.flow + loss, start, basis.transpose() * p.source, p.decay)
                             .lacking(first_, last_) /
                         p.scale;
    if (!(found < 10 * tolerance_))
        return false;
    error = std::max(error, found);
    return true;
}

MatrixXd Reduction::front(const MatrixXd& a) const {
    MatrixXd u = MatrixXd::Zero(nodes_, a.cols());
    for (std::size_t k = 0; k < modes_.size();) { // modes with one basis are put together
        const auto& space = modes_[k].space;
        MatrixXd in = MatrixXd::Zero(space ? space->basis->cols() : 0, a.cols());
        const auto* basis = space ? space->basis.get() : nullptr;
        for (; k < modes_.size() &&
               basis == (modes_[k].space ? modes_[k].space->basis.get() : nullptr);
             ++k)
            if (basis)
                in.noalias() += shape_(0, static_cast<Index>(k)) * *modes_[k].space->flow.vectors *
                                a.middleRows(modes_[k].first, basis->cols());
        if (basis)
            u.noalias() += *basis * in;
    }
    return u;
}

VectorXd Reduction::planes(const VectorXd& a) const {
    const Index count = shape_.rows();
    VectorXd u = VectorXd::Zero(nodes_ * count + 1);
    Eigen::Map<MatrixXd> on(u.data(), nodes_, count);
    MatrixXd in(nodes_, shape_.cols());
    for (std::size_t k = 0; k < modes_.size(); ++k) {
        const Mode& mode = modes_[k];
        auto column = in.col(static_cast<Index>(k));
        if (mode.space)
            column = *mode.space->basis *
                     (*mode.space->flow.vectors * a.segment(mode.first, mode.space->basis->cols()));
        else
            column.setZero();
    }
    on.noalias() = in * shape_.transpose();
    u[nodes_ * count] = a[a.size() - 1];
    return u;
}

bool Reduction::same_spaces(const Reduction& other) const {
    return nodes_ == other.nodes_ && shape_ == other.shape_ &&
           std::ranges::equal(modes_, other.modes_, [](const Mode& a, const Mode& b) {
               return a.space.has_value() == b.space.has_value() &&
                      (!a.space || (a.space->basis == b.space->basis &&
                                    a.space->flow.vectors == b.space->flow.vectors));
           });
}

VectorXd Reduction::weights(const VectorXd& w) const {
    const Index count = shape_.rows();
    const Eigen::Map<const MatrixXd> on(w.data(), nodes_, count);
    VectorXd own = VectorXd::Zero(system.capacity.size());
    for (std::size_t k = 0; k < modes_.size(); ++k)
        if (const Mode& m = modes_[k]; m.space)
            own.segment(m.first, m.space->basis->cols()) =
                m.space->flow.vectors->transpose() *
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

Prism::Prism(std::shared_ptr<const Reduction> reduction, std::shared_ptr<const History> amplitudes,
             const Prism* donor)
    : reduction_(std::move(reduction)), amplitudes_(std::move(amplitudes)),
      spectrum_(dynamic_cast<const Spectrum*>(amplitudes_.get())) {
    if (donor && spectrum_ && donor->spectrum_ && spectrum_->same_rows(*donor->spectrum_) &&
        reduction_->same_spaces(*donor->reduction_)) {
        front_ = donor->front_;
        often_ = donor->often_;
    } else {
        front_ = std::make_shared<Front>();
    }
}

void Prism::front_often() const {
    if (!spectrum_)
        return;
    std::call_once(front_->made, [&] { front_->values = reduction_->front(spectrum_->rows()); });
    often_ = true;
}

VectorXd Prism::front(double t, double loss) const {
    if (!often_) {
        const VectorXd a = amplitudes_->arrived(t, loss);
        VectorXd u(reduction_->nodes() + 1);
        u << reduction_->front(a.head(a.size() - 1)), a[a.size() - 1];
        return u;
    }
    const auto [a, bath] = spectrum_->inner(t, loss);
    VectorXd u(front_->values.rows() + 1);
    u.head(front_->values.rows()).noalias() = front_->values * a;
    u[front_->values.rows()] = bath;
    return u;
}

History::Follower Prism::follow(const VectorXd& weights) const {
    return amplitudes_->follow(reduction_->weights(weights));
}

} // namespace tidemark::transport
