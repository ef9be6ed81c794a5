// SPDX-License-Identifier: MIT
/// The best day of each piece in a bucket. A piece's spread is that of the piece alone in its share
/// of the brine, its middle that of the bucket: what the others' variation does to the brine is
/// left out, and small beside its own.
#pragma once

#include "cure/outcome.hpp"
#include "inference/case_inputs.hpp"
#include "inference/chance.hpp"
#include "inference/ranges.hpp"

#include <vector>

namespace tidemark::inference {

/// Different pieces for which chances are worked out; each costs about what a day costs.
constexpr std::size_t most_bucket_kinds = 12;

/// The question with a share in (0, 1] of every bath: of the brines as they were described, and of
/// the water of soaks.
cure::Question in_share(cure::Question question, double share);

/// A piece of the bucket alone, in its share of every bath of `question`, the bucket's own or one
/// with other brines; `piece` counts as in its outcome. A question of one piece stays what it is.
cure::Question alone(const cure::Outcome& bucket, std::size_t piece,
                     const cure::Question& question);

/// For each piece of `bucket`, the days to end the last stage that cures; equal pieces alike; empty
/// where there are more kinds than that. `records` as they were given to cure::run().
std::vector<BestDay> bucket_chances(const cure::Outcome& bucket, const base::Records& records,
                                    const InputsOf& inputs_of, const Ask& ask);

/// What is to be told of keeping the last of them to its best day, where that is later than all are
/// typically cured.
judge::Findings of_waiting(const cure::Outcome& bucket, const std::vector<BestDay>& chances,
                           const base::Records& records);

} // namespace tidemark::inference
