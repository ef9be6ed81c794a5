// SPDX-License-Identifier: MIT
/// The pieces of a question on one mesh each, and the liquids they share: what one gives to a brine
/// the others find there. A piece alone is the plain case.
#pragma once

#include "cure/grid.hpp"
#include "transport/prism.hpp"

#include <memory>
#include <vector>

namespace tidemark::cure {

class Tank {
public:
    /// `units` [1]: of each grid's cells, in all pieces it stands for.
    Tank(std::vector<std::unique_ptr<Grid>> grids, std::vector<double> units);

    /// Begins a stage at `from` [s] for all pieces; `setups` and `contacts` one for each. A finite
    /// bath is one for all that touch it, poured together from the shares of all.
    void begin(bool nitrite, double from, const std::vector<const Setup*>& setups,
               const std::vector<Grid::Contact>& contacts);

    std::size_t size() const { return grids_.size(); }
    Grid& operator[](std::size_t k) { return *grids_[k]; }
    const Grid& operator[](std::size_t k) const { return *grids_[k]; }
    double mass_balance_error(double t) const; ///< of all up to t [s], the worst [1]
    double time_error() const;
    int nodes() const;

private:
    void join(bool nitrite, double from, const std::vector<std::size_t>& together,
              const std::vector<const Setup*>& setups, const std::vector<Grid::Contact>& contacts);

    std::vector<std::unique_ptr<Grid>> grids_;
    std::vector<double> units_;
    double joined_error_ = 0; ///< of mass, in baths shared so far [1]
    /// The salt's histories of a first stage, whose spaces serve the nitrite.
    std::shared_ptr<const transport::History> salt_;
    std::vector<std::shared_ptr<const transport::Reduction>> reduced_;
};

} // namespace tidemark::cure
