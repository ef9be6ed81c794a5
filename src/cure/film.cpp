// SPDX-License-Identifier: MIT
/// What a film on the faces and ends of a piece gives while it is a thin skin.
#include "cure/grid.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>
#include <vector>

namespace tidemark::cure {

Grid::Film Grid::film(bool nitrite, double from, const Setup& setup, const Contact& contact) const {
    const transport::Whole wet = assemble(setup, nitrite, contact);
    Film film{draw(setup, nitrite, contact)};
    const transport::Chain& chain = nitrite ? nitrite_chain : salt_chain;
    Eigen::VectorXd lack = Eigen::VectorXd::Constant(
        film.pull.face.size(), contact.bath.partition * contact.bath.concentration);
    if (!contact.gives)
        lack -= chain.before(from);
    film.pull.face = film.pull.face.cwiseProduct(lack.cwiseMax(0.0));
    film.pull.corner = film.pull.corner.cwiseProduct(lack.cwiseMax(0.0));
    const Eigen::VectorXd held = transport::node_water(wet.system);
    for (Eigen::Index i = 0; i < lack.size(); ++i)
        if (wet.system.unknown[static_cast<std::size_t>(i)] == wet.system.bath())
            film.at_once += held[i] * lack[i];
    return film;
}

Eigen::VectorXd Grid::coat(const Film& film, double t) const {
    Eigen::VectorXd coat = film.taken(t);
    const auto gap = [&](Eigen::Index a, Eigen::Index b) { // between nodes, as a square
        const auto at = [&](Eigen::Index i) {
            const auto k = static_cast<std::size_t>(i % nodes());
            return mesh ? mesh->nodes[k] : geometry::Point(line->nodes[k], 0);
        };
        const double across = geometry::distance(at(a), at(b)),
                     along = along_.place[a / nodes()] - along_.place[b / nodes()];
        return across * across + along * along;
    };
    std::vector<Eigen::Index> near;
    for (Eigen::Index i = 0; i < coat.size(); ++i)
        if (film.pull.face[i] > 0)
            near.push_back(i);
    for (const Eigen::Index corner : std::vector(near)) {
        if (coat[corner] >= 0)
            continue;
        for (double lack = std::exchange(coat[corner], 0); lack < 0;) {
            const Eigen::Index next = *std::ranges::min_element(near, {}, [&](Eigen::Index i) {
                return coat[i] > 0 ? gap(i, corner) : std::numeric_limits<double>::infinity();
            });
            if (!(coat[next] > 0))
                break;
            const double off = std::min(coat[next], -lack);
            coat[next] -= off;
            lack += off;
        }
    }
    return coat;
}

Eigen::VectorXd Grid::Film::taken(double t) const {
    return 2 * std::sqrt(t / std::numbers::pi) * pull.face - t * pull.corner;
}

Grid::Film::Times Grid::Film::times(double dose) const {
    const double rise = 2 / std::sqrt(std::numbers::pi) * pull.face.sum(), bend = pull.corner.sum(),
                 root = rise * rise - 4 * bend * dose;
    if (!(rise > 0) || root < 0)
        return {};
    const double s = 2 * dose / (rise + std::sqrt(root)); // dose = rise s - bend s^2, s^2 = t
    return {s * s, s * s * s * (rise / 3 - bend * s / 2) / dose};
}

} // namespace tidemark::cure
