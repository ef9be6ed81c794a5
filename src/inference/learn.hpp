// SPDX-License-Identifier: MIT
/// What slices teach about one shop's meat: how its pace of salt and of nitrite, its loss of
/// nitrite and its eye stand to the numbers of the records, and how far its pieces differ. All
/// batches of the shop share these; around them every piece varies by itself, as do thickness,
/// cooler, brine and the colour's threshold. One muscle at a time. Not for batches with a
/// diffusivity or loss of their own.
///
/// A ring is nitrite's: it tells of the pace of salt times the ratio, with the eye that reads it.
/// So it moves the days of colour, and leaves the salt's where the records have it, until salt was
/// measured in a slice.
#pragma once

#include "inference/inputs.hpp"
#include "inference/shops.hpp"
#include "inference/trial.hpp"

#include <Eigen/Core>

#include <array>
#include <memory>
#include <string>
#include <vector>

namespace tidemark::inference {

/// What is told of a shop: its paces of nitrite and of salt, its loss of nitrite, and how far its
/// pieces differ in pace.
enum class Lesson { nitrite, salt, loss, pieces };
constexpr std::size_t lesson_count = 4;

/// A batch that was sliced.
struct Seen {
    std::shared_ptr<const Trial> trial;
    Slice slice;
};

struct Learnt {
    int batches = 0;
    ShopPrior prior;
    Cloud cloud;   ///< shops with their shares, by all that was seen
    Cloud by_salt; ///< the same by the salt measured alone
    /// Of the next batch's shop: salt_speed to cured_eye, logarithms of factors [1].
    Eigen::Vector4d log_mean;
    Eigen::Matrix4d log_covariance;
    double piece_speed = 0; ///< between its pieces, standard deviation of the logarithm [1]
    std::array<bool, lesson_count> told{};        ///< whether the slices say anything of it
    std::array<std::string, lesson_count> reason; ///< if not, why, and what would
    bool bound = false; ///< every slice was pink through: the cure is only so fast or faster
    std::vector<double> surprises;      ///< of each batch, given the others [1]
    std::vector<std::string> conflicts; ///< batches that do not fit the others

    /// What is below a share `q` in (0, 1) of the posterior: factors on the records [1]; of
    /// `pieces` the standard deviation of the logarithm of the pace [1].
    double quantile(Lesson which, double q) const;
    double log_sd(Lesson which) const;        ///< of the logarithm [1]
    double log_sd_before(Lesson which) const; ///< before any slice
};

/// The posterior of a shop, from so many points. `seen` may be empty: then it is the prior. Equal
/// slices of one trial are worked out once.
Learnt learn(const ShopPrior& prior, const std::vector<Seen>& seen, int points = 2048);

/// Of whom the days are told: of the next piece, with what is not known of its shop; or of the
/// pieces of a shop that is known to its middle.
enum class Whose { next_piece, pieces_of_shop };

/// The inputs of the next batch in this shop.
Inputs learnt_inputs(Inputs inputs, const Learnt& learnt, Whose whose = Whose::next_piece);

} // namespace tidemark::inference
