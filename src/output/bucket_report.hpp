// SPDX-License-Identifier: MIT
/// A bucket of different pieces as one screen of text, or as one JSON object.
#pragma once

#include "cure/bucket.hpp"
#include "inference/chance.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// Of the bucket's pieces, in their order; empty: not worked out.
using BucketChances = std::vector<inference::BestDay>;

/// The screen, lines of at most 80 characters, in the order of taking out. `more`: with the state
/// of each piece and the notes.
std::string bucket_report(const cure::Bucket& bucket, const BucketChances& chances = {},
                          bool more = false);

/// The object as text, two spaces deep; units stand in the names of the members.
std::string bucket_json(const cure::Bucket& bucket, const BucketChances& chances = {});

} // namespace tidemark::output
