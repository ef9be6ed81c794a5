// SPDX-License-Identifier: MIT
/// What two meshes, one with twice the cells of the other, say together. Assumes errors that fall
/// as the square of the cells. Not where the two went different ways: one of them may never get
/// there.
#pragma once

#include "cure/track.hpp"

#include <functional>
#include <memory>
#include <optional>

namespace tidemark::cure {

/// Richardson: the value both meshes point to, in their unit.
double extrapolated(double coarse, double fine);
/// The same where either may have none: then it is the fine one's, or none.
std::optional<double> extrapolated(const std::optional<double>& coarse,
                                   const std::optional<double>& fine);
Reading extrapolated(const Reading& coarse, const Reading& fine);

/// A question followed on both.
class Meshes {
public:
    Meshes(const Question& question, Coefficients c, const Progress& progress = {});
    Meshes(const Meshes&) = delete;
    Meshes& operator=(const Meshes&) = delete;

    const Question question; ///< the tracks refer to these two
    const Coefficients c;
    std::unique_ptr<const Track> coarse, fine;

    /// Of the first piece in the first stage.
    const Setup& setup() const { return c.first(); }
    /// The first stage whose wait came true on one mesh only; the number of stages if there is
    /// none.
    std::size_t parting() const;
    /// A time found on each mesh: the fine one's alone once the two have gone different ways.
    std::optional<double> together(std::size_t kind, std::optional<double> Times::*time) const;
    /// What two meshes say of a value of one grid at a time within both.
    template <class Ask> double both(std::size_t kind, const Ask& ask) const {
        return extrapolated(ask(coarse->grid(kind)), ask(fine->grid(kind)));
    }
    /// Of the cured time on the fine mesh [s], which stands for that of the answer; none where the
    /// coarse one tells nothing of it.
    std::optional<double> cured_error(std::size_t kind) const;

private:
    bool alike(const std::optional<double>& on_coarse, const std::optional<double>& on_fine) const;
};

/// The coarse cells of a question alone.
std::unique_ptr<Track> coarse_track(const Question& question, const Coefficients& c);

} // namespace tidemark::cure
