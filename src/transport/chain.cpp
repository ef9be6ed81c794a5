// SPDX-License-Identifier: MIT
#include "transport/chain.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::transport {

using Eigen::VectorXd;

VectorXd node_water(const System& system) {
    VectorXd water = VectorXd::Zero(static_cast<Eigen::Index>(system.unknown.size()));
    for (const VectorXd& w : system.region_water)
        water += w;
    return water;
}

void start_from(System& s, const VectorXd& nodal, double concentration) {
    const VectorXd water = node_water(s);
    VectorXd mass = VectorXd::Zero(s.capacity.size());
    for (Eigen::Index i = 0; i < water.size(); ++i)
        mass[s.unknown[i]] += water[i] * nodal[i];
    const double value = s.partition * concentration;
    mass[s.bath()] += s.bath_capacity * value;
    for (Eigen::Index k = 0; k < mass.size(); ++k)
        s.initial[k] = s.capacity[k] > 0 ? mass[k] / s.capacity[k] : 0;
    if (s.held)
        s.initial[s.bath()] = value;
}

Chain::Chain(VectorXd initial, VectorXd mean, Eigen::Index front)
    : initial_(std::move(initial)), mean_(std::move(mean)),
      front_(front > 0 ? front : initial_.size()) {}

void Chain::begin(double from, System system, std::shared_ptr<const History> history, double loss,
                  double given, bool shared) {
    const VectorXd nodal = before(from);
    while (!links_.empty() && links_.back().from >= from)
        links_.pop_back();
    Link link;
    link.from = from;
    link.jump = given;
    link.shared = shared;
    link.reacted = VectorXd::Zero(initial_.size());
    if (!links_.empty()) {
        const Link& l = links_[link_at(from)];
        link.reacted = l.reacted + l.loss * l.history->at(from - l.from).dose(l.system.unknown);
    }
    if (system.held) {
        const VectorXd water = node_water(system);
        for (Eigen::Index i = 0; i < water.size(); ++i)
            if (system.unknown[i] == system.bath())
                link.jump += water[i] * (system.initial[system.bath()] - nodal[i]);
    }
    VectorXd weights = VectorXd::Zero(system.capacity.size());
    for (Eigen::Index i = 0; i < mean_.size(); ++i)
        weights[system.unknown[i]] += mean_[i];
    link.mean = history->follow(weights);
    VectorXd of_bath = VectorXd::Zero(weights.size());
    of_bath[system.bath()] = 1;
    link.bath = history->follow(of_bath);
    link.system = std::move(system);
    link.history = std::move(history);
    link.loss = loss;
    links_.push_back(std::move(link));
}

VectorXd Chain::before(double t) const {
    std::size_t k = links_.size();
    while (k > 0 && links_[k - 1].from >= t)
        --k;
    if (k == 0)
        return initial_;
    const Link& l = links_[k - 1];
    return l.history->at(t - l.from).free(l.system.unknown);
}

std::size_t Chain::link_at(double t) const {
    std::size_t k = links_.size() - 1;
    while (k > 0 && t <= links_[k].from)
        --k;
    return k;
}

VectorXd on_front(const History& history, const System& system, Eigen::Index nodes, double t,
                  double loss) {
    const VectorXd values = history.front(t, loss);
    const int bath = static_cast<int>(values.size()) - 1;
    VectorXd nodal(nodes);
    for (Eigen::Index i = 0; i < nodes; ++i)
        nodal[i] = values[std::min(system.unknown[static_cast<std::size_t>(i)], bath)];
    return nodal;
}

VectorXd Chain::on_front(const Link& l, double t, double loss) const {
    return transport::on_front(*l.history, l.system, front_, t - l.from, loss);
}

VectorXd Chain::free(double t) const {
    return links_.empty() ? initial_.head(front_).eval() : on_front(links_[link_at(t)], t, 0);
}

VectorXd Chain::arrived(double t) const {
    if (links_.empty())
        return initial_.head(front_);
    const Link& l = links_[link_at(t)];
    return l.reacted.head(front_) + on_front(l, t, l.loss);
}

VectorXd Chain::free_everywhere(double t) const {
    if (links_.empty())
        return initial_;
    const Link& l = links_[link_at(t)];
    return l.history->at(t - l.from).free(l.system.unknown);
}

std::pair<double, double> Chain::mean(double t) const {
    if (links_.empty())
        return {mean_.dot(initial_), mean_.dot(initial_)};
    const Link& l = links_[link_at(t)];
    const auto [free, dose] = l.mean(t - l.from);
    return {free, free + l.loss * dose + mean_.dot(l.reacted)};
}

double Chain::bath(double t) const {
    const Link& l = links_[link_at(t)];
    return l.bath(t - l.from).first / l.system.partition;
}

double Chain::held(const Link& l, double t) const {
    return node_water(l.system).dot(l.reacted +
                                    l.history->arrived(t - l.from, l.loss)(l.system.unknown));
}

double Chain::taken(std::size_t k, double t) const {
    const Link& l = links_[k];
    const System& s = l.system;
    if (l.shared) // wall nodes take theirs from the bath at once
        return held(l, t) - node_water(s).dot(before(l.from) + l.reacted);
    if (s.held)
        return l.jump + l.history->influx(t - l.from);
    // A bath that shares its unknown with wall nodes starts at their common value, so its own start
    // is what the whole had less what the tissue brought.
    const VectorXd water = node_water(s);
    const double started = s.capacity.dot(s.initial) - water.dot(before(l.from));
    const auto [free, dose] = l.bath(t - l.from);
    return started - s.bath_capacity * (free + s.bath_loss * dose);
}

double Chain::taken_between(double from, double to) const {
    double sum = 0;
    for (std::size_t k = 0; k < links_.size() && links_[k].from < to; ++k) {
        const double end = k + 1 < links_.size() ? std::min(to, links_[k + 1].from) : to;
        if (end > from)
            sum += taken(k, end) - (from > links_[k].from ? taken(k, from) : 0);
    }
    return sum;
}

double Chain::mass_balance_error(double t) const {
    const std::size_t last = link_at(t);
    const Link& l = links_[last];
    const double now = held(l, t), start = node_water(l.system).dot(initial_);
    double in = 0, largest = std::max({std::abs(now), std::abs(start), 1e-300});
    for (std::size_t k = 0; k <= last; ++k) {
        const double part = taken(k, k == last ? t : links_[k + 1].from);
        in += part;
        largest = std::max(largest, std::abs(part));
    }
    return std::abs(now - start - in) / largest;
}

double Chain::time_error() const {
    double error = 0;
    for (const Link& l : links_)
        error += l.history->time_error();
    return error;
}

} // namespace tidemark::transport
