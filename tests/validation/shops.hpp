// SPDX-License-Identifier: MIT
/// Invented shops: what their pieces have in common, their pieces, and the slices a cook reads.
/// Dice apart from those of the inference.
#pragma once

#include "common.hpp"
#include "cure/two_meshes.hpp"
#include "inference/learn.hpp"
#include "inference/sampling.hpp"
#include "inference/similar.hpp"

#include <Eigen/Cholesky>

#include <cmath>
#include <functional>
#include <random>

namespace tidemark::validation {

using test::day;

/// A round in a 5 % brine with 200 ppm of nitrite.
inline cure::Case round_of(double thickness) {
    cure::Case c;
    c.piece.shape = "round";
    c.piece.dimensions.thickness = thickness;
    c.brine.salt = 0.05;
    c.brine.nitrite = 200e-6;
    return c;
}

/// A case with the model of its slices.
struct Kitchen {
    base::Records records = base::Records::built_in();
    cure::Outcome prediction;
    inference::Inputs inputs;
    inference::Drawing drawing;
    inference::SliceModel model;
    inference::ShopPrior prior;
    inference::LookErrors errors;

    explicit Kitchen(double thickness)
        : prediction(cure::run(cure::in_brine(round_of(thickness)), records)),
          inputs(inference::case_inputs(prediction.question.base, prediction.solved->setup(),
                                        records)),
          drawing(inputs, prediction.question.base, prediction.solved->setup(), records),
          model(prediction), prior(inference::shop_prior(inputs, records)), errors(records) {}

    std::shared_ptr<const inference::Trial> trial(double days, int draws) const {
        return std::make_shared<const inference::Trial>(model, inputs, drawing, prior, records,
                                                        days * day, draws);
    }
};

class World {
public:
    double uniform() { return std::generate_canonical<double, 53>(random_); }
    double normal() { return inference::normal_score(uniform()); }

    inference::ShopNumbers shop(const inference::ShopPrior& prior) {
        const Eigen::MatrixXd root = prior.covariance.llt().matrixL();
        return root * inference::ShopNumbers::NullaryExpr([&] { return normal(); });
    }

    /// A piece of the shop.
    inference::Draw piece(const Kitchen& k, const inference::ShopNumbers& shop) {
        using namespace inference;
        const auto columns = static_cast<Eigen::Index>(k.inputs.list().size());
        const Eigen::MatrixXd dice =
            Eigen::MatrixXd::NullaryExpr(1, columns, [&] { return uniform(); });
        Eigen::VectorXd values = k.inputs.values(dice).row(0);
        const auto put = [&](const char* name, double log) {
            values[k.inputs.column(name)] = std::exp(log);
        };
        put("diffusivity",
            shop[salt_speed] + k.prior.piece_speed * std::exp(shop[piece_spread]) * normal());
        put("nitrite-ratio", shop[nitrite_ratio]);
        put("loss", shop[loss_rate] + k.prior.piece_loss * normal());
        put("eye", shop[cured_eye]);
        return k.drawing(values);
    }

    /// The ring of a piece as it is read, with the salt of its core if that is measured.
    inference::Slice slice(const Kitchen& k, const inference::Draw& piece, double time,
                           bool salt = false) {
        using namespace inference;
        const Slice shown = k.model(piece, time);
        Slice seen, through;
        through.through = true;
        seen.time = through.time = time;
        constexpr auto core = static_cast<std::size_t>(Look::core_salt);
        if (salt)
            seen.found[core] = through.found[core] = k.errors.read(
                Look::core_salt, *shown.found[core], (uniform() < seen.slips ? 10 : 1) * normal());
        if (uniform() < std::exp(log_likelihood(through, shown)))
            return through;
        seen.every = *shown.top + seen.error * (uniform() < seen.slips ? 10 : 1) * normal();
        return seen;
    }

private:
    std::mt19937_64 random_{1};
};

} // namespace tidemark::validation
