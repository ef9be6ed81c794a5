// SPDX-License-Identifier: MIT
/// The modes of a whole piece, each in a space of its own, and the bath they share, as one small
/// system of amplitudes; and its history told on the planes. Part of whole.hpp, apart for pieces
/// that share a bath with others.
#pragma once

#include "transport/krylov.hpp"
#include "transport/spectrum.hpp"
#include "transport/whole.hpp"

#include <memory>
#include <mutex>
#include <optional>
#include <vector>

namespace tidemark::transport {

/// What a whole piece comes to. Needs several planes and one loss in all tissues, else
/// base::RunError.
class Reduction {
public:
    /// A donor gives its span of time besides its spaces.
    Reduction(const Whole& whole, double first, double last, double tolerance,
              const Reduction* donor = nullptr);

    System system;    ///< of the amplitudes, the bath last; `initial` as the whole begins
    double error = 0; ///< of the spaces, relative [1]

    double first() const { return first_; }       ///< [s]
    double last() const { return last_; }         ///< [s]
    Eigen::Index nodes() const { return nodes_; } ///< unknowns of a plane
    /// Values of the first plane, of columns of amplitudes without the bath; of all planes one
    /// after the other, with the bath last.
    Eigen::MatrixXd front(const Eigen::MatrixXd& amplitudes) const;
    Eigen::VectorXd planes(const Eigen::VectorXd& amplitudes) const;
    /// weights.u turned round: weights on the amplitudes, from those on the whole's unknowns.
    Eigen::VectorXd weights(const Eigen::VectorXd& weights) const;
    /// Whether the same amplitudes tell the same.
    bool same_spaces(const Reduction& other) const;

private:
    struct Space {
        std::shared_ptr<const Eigen::MatrixXd> basis; ///< of several modes, if it serves them
        Spectral flow;                                ///< the links on it without loss
    };
    struct Mode {
        std::optional<Space> space; ///< none: nothing happens in it; its vectors: the amplitudes
        Eigen::Index first = 0;     ///< of its amplitudes
    };
    /// Whether the space serves for `p`; if so, its error counts.
    bool fits(const Space& space, const Linear& p, double loss);
    double first_ = 0, last_ = 0, tolerance_ = 0;
    Eigen::Index nodes_ = 0;
    std::vector<Mode> modes_;
    Eigen::MatrixXd shape_;                   ///< [plane, mode]; fixed planes are the bath
    Eigen::SparseMatrix<double> conductance_; ///< of the section without the bath
    Eigen::VectorXd lengthwise_;
};

/// The history of a piece from that of its amplitudes.
class Prism : public History {
public:
    /// A donor that is asked for the same plane often, by the same amplitudes, has what it needs.
    Prism(std::shared_ptr<const Reduction> reduction, std::shared_ptr<const History> amplitudes,
          const Prism* donor = nullptr);

    double last() const override { return amplitudes_->last(); }
    State at(double t) const override;
    Eigen::VectorXd arrived(double t, double loss) const override;
    Eigen::VectorXd front(double t, double loss) const override;
    void front_often() const override;
    Follower follow(const Eigen::VectorXd& weights) const override;
    double influx(double t) const override { return amplitudes_->influx(t); }
    double time_error() const override { return reduction_->error + amplitudes_->time_error(); }
    const Reduction& reduction() const { return *reduction_; }
    const History& amplitudes() const { return *amplitudes_; }

private:
    /// The first plane's values of the vectors of a Spectrum of amplitudes, where they are asked
    /// for often: they cost as much as a hundred times of which each is put together by itself.
    struct Front {
        std::once_flag made;
        Eigen::MatrixXd values;
    };
    std::shared_ptr<const Reduction> reduction_;
    std::shared_ptr<const History> amplitudes_;
    const Spectrum* spectrum_ = nullptr; ///< the amplitudes', if it is one
    std::shared_ptr<Front> front_;
    mutable bool often_ = false; ///< its values are there
};

} // namespace tidemark::transport
