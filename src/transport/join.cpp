// SPDX-License-Identifier: MIT
#include "transport/join.hpp"

#include "base/error.hpp"

#include <algorithm>
#include <utility>

namespace tidemark::transport {

namespace {

using Eigen::Index;
using Eigen::VectorXd;

bool one_bath(const System& a, const System& b) {
    return a.held == b.held && a.partition == b.partition && a.bath_loss == b.bath_loss &&
           (!a.held || a.initial[a.bath()] == b.initial[b.bath()]);
}

} // namespace

Joined join(const std::vector<Part>& parts) {
    Joined joined;
    System& s = joined.system;
    const System& first = parts.front().system;
    if (!std::ranges::all_of(parts, [&](const Part& p) { return one_bath(first, p.system); }))
        throw base::RunError("parts joined in one bath do not agree on what the bath is");
    s.held = first.held;
    s.partition = first.partition;
    s.bath_loss = first.bath_loss;

    int count = 0; // unknowns besides the bath
    for (const Part& p : parts)
        count += p.system.bath();
    s.capacity = s.loss = s.initial = s.even = VectorXd::Zero(count + 1);
    std::vector<Eigen::Triplet<double>> entries;
    int before = 0; // unknowns of the parts so far
    for (const auto& [part, units] : parts) {
        std::vector<int> at(static_cast<std::size_t>(part.bath()) + 1, count);
        for (int i = 0; i < part.bath(); ++i)
            at[i] = before + i;
        for (std::size_t i = 0; i < at.size(); ++i) {
            const Index k = static_cast<Index>(i);
            const double water = units * part.capacity[k];
            s.even[at[i]] = part.even.size() > 0 ? part.even[k] : 1;
            s.capacity[at[i]] += water;
            s.loss[at[i]] += water * part.loss[k]; // and start, as amounts until all are in
            s.initial[at[i]] += water * part.initial[k];
        }
        for (int k = 0; k < part.conductance.outerSize(); ++k)
            for (Eigen::SparseMatrix<double>::InnerIterator it(part.conductance, k); it; ++it)
                entries.emplace_back(at[it.row()], at[it.col()], units * it.value());
        s.bath_capacity += units * part.bath_capacity;
        before += part.bath();
        joined.unknowns.push_back(std::move(at));
    }
    for (Index k = 0; k <= count; ++k)
        if (s.capacity[k] > 0) {
            s.loss[k] /= s.capacity[k];
            s.initial[k] /= s.capacity[k];
        }
    if (s.held)
        s.initial[count] = first.initial[first.bath()];
    s.conductance.resize(count + 1, count + 1);
    s.conductance.setFromTriplets(entries.begin(), entries.end());
    return joined;
}

} // namespace tidemark::transport
