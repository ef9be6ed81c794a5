// SPDX-License-Identifier: MIT
#include "cure/tank.hpp"

#include "transport/join.hpp"
#include "transport/share.hpp"
#include "transport/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::cure {

Tank::Tank(std::vector<std::unique_ptr<Grid>> grids, std::vector<double> units)
    : grids_(std::move(grids)), units_(std::move(units)), reduced_(grids_.size()) {}

void Tank::begin(bool nitrite, double from, const std::vector<const Setup*>& setups,
                 const std::vector<Grid::Contact>& contacts) {
    std::vector<std::size_t> together; // in a bath that what one gives changes for the others
    for (std::size_t k = 0; k < size(); ++k)
        if (size() > 1 && !contacts[k].closed && std::isfinite(contacts[k].bath.water))
            together.push_back(k);
        else
            grids_[k]->begin(nitrite, from, *setups[k], contacts[k]);
    if (together.size() == 1)
        grids_[together.front()]->begin(nitrite, from, *setups[together.front()],
                                        contacts[together.front()]);
    else if (!together.empty())
        join(nitrite, from, together, setups, contacts);
}

void Tank::join(bool nitrite, double from, const std::vector<std::size_t>& together,
                const std::vector<const Setup*>& setups,
                const std::vector<Grid::Contact>& contacts) {
    const double first = contacts[together.front()].first, last = contacts[together.front()].last;
    const double tolerance = setups[together.front()]->tolerance;
    const auto& log = setups[together.front()]->clock;
    const bool logged = log.has_value();
    transport::Clock clock;
    if (logged)
        clock = from_here(*log, from);
    const double all = clock.diffusion(last); // as transport::solve() takes it
    std::vector<transport::Whole> wholes;
    std::vector<std::shared_ptr<const transport::Reduction>> reduced(size());
    std::vector<transport::Part> parts;
    for (const std::size_t k : together) {
        const Grid& g = *grids_[k];
        wholes.push_back(g.assemble(*setups[k], nitrite, contacts[k]));
        transport::Whole& w = wholes.back();
        const transport::Chain& chain = nitrite ? g.nitrite_chain : g.salt_chain;
        transport::start_from(w.system, chain.before(from), contacts[k].bath.concentration);
        if (w.along.planes() > 1 || logged) // few amplitudes to step
            reduced[k] = std::make_shared<const transport::Reduction>(
                w, logged ? first * all / last / 4 : first, logged ? 2 * all : last, tolerance,
                nitrite && !logged ? reduced_[k].get() : nullptr);
        parts.push_back({reduced[k] ? reduced[k]->system : w.system, units_[k]});
    }
    const transport::Joined joined = transport::join(parts);
    std::shared_ptr<const transport::History> whole;
    const auto* donor = nitrite ? dynamic_cast<const transport::Spectrum*>(salt_.get()) : nullptr;
    if (logged)
        whole = std::make_shared<transport::Stepper>(joined.system, clock, last, step_tolerance);
    else if (donor)
        whole = std::make_shared<transport::Spectrum>(joined.system, *donor);
    else
        whole = std::make_shared<transport::Spectrum>(joined.system, first, last, tolerance);
    for (const double share : {0.1, 1.0})
        joined_error_ = std::max(
            joined_error_, transport::mass_balance_error(joined.system, *whole, share * last));
    for (std::size_t j = 0; j < together.size(); ++j) {
        const std::size_t k = together[j];
        const auto at = joined.unknowns[j].front();
        std::shared_ptr<const transport::History> part;
        if (const auto* own = dynamic_cast<const transport::Spectrum*>(whole.get()))
            part = std::make_shared<transport::Spectrum>(*own, parts[j].system, at);
        else
            part = std::make_shared<transport::Share>(whole, at, parts[j].system.bath());
        if (reduced[k])
            part = std::make_shared<transport::Prism>(reduced[k], std::move(part));
        const Tissue& lean = setups[k]->tissues.at("lean");
        transport::Chain& chain = nitrite ? grids_[k]->nitrite_chain : grids_[k]->salt_chain;
        chain.begin(from, std::move(wholes[j].system), std::move(part),
                    nitrite ? lean.nitrite.loss : lean.salt.loss, 0, true);
    }
    if (!nitrite) {
        salt_ = whole;
        reduced_ = std::move(reduced);
    }
}

double Tank::mass_balance_error(double t) const {
    double error = joined_error_;
    for (const auto& grid : grids_)
        error = std::max(error, grid->mass_balance_error(t));
    return error;
}

double Tank::time_error() const {
    double error = 0;
    for (const auto& grid : grids_)
        error = std::max(error, grid->time_error());
    return error;
}

int Tank::nodes() const {
    Eigen::Index count = 0;
    for (const auto& grid : grids_)
        count += grid->nodes();
    return static_cast<int>(count);
}

} // namespace tidemark::cure
