// SPDX-License-Identifier: MIT
/// What the user of a bucket is told and warned of, and the law's arithmetic over all its meat.
#pragma once

#include "cure/bucket.hpp"
#include "cure/pickle.hpp"

namespace tidemark::cure {

/// Fills what is said in words, and `ingoing`, from the times and the state of a solved bucket.
void advise(Bucket& bucket, const Case& first, const Pickle& pickle, base::Records& records);

} // namespace tidemark::cure
