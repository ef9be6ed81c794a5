// SPDX-License-Identifier: MIT
/// Several systems side by side in one bath: what one gives to the bath the others find there.
/// The systems touch each other through the bath only; faces that touch are for the mesher to shut.
/// Each system brings a share of the bath, and the shares are poured together.
#pragma once

#include "transport/history.hpp"

#include <memory>
#include <vector>

namespace tidemark::transport {

/// A system of one unit of cells, and how many such units there are.
struct Part {
    System system;
    double units = 1; ///< above zero
};

/// The parts as one system, the bath last as ever. Regions and nodes follow one another part by
/// part.
struct Joined {
    System system;
    /// Of each part's unknowns, the joined one; the bath's is the same for all.
    std::vector<std::vector<int>> unknowns;
};

/// Joins parts [1..]: waters, conductances and shares of the bath [kg water] each times the part's
/// units. Throws base::RunError where the baths cannot be one: held and not held, held at different
/// strengths, or of different partition or loss.
Joined join(const std::vector<Part>& parts);

/// One part's view of a joined history. Its bath is everybody's: what a finite bath lost is no
/// measure of what this part took; ask the joined system for the balance of mass.
class PartHistory : public History {
public:
    /// `unknowns` as join() gave them for `part`, a system of one unit.
    PartHistory(std::shared_ptr<const History> whole, std::vector<int> unknowns,
                const System& part);

    double last() const override { return whole_->last(); }
    State at(double t) const override;
    Eigen::VectorXd arrived(double t, double loss) const override;
    double influx(double t) const override; ///< into one unit of this part
    double time_error() const override { return whole_->time_error(); }

private:
    std::shared_ptr<const History> whole_;
    std::vector<int> unknowns_;
    Eigen::VectorXd draw_; ///< weights on the dose that give what a held bath gave
};

} // namespace tidemark::transport
