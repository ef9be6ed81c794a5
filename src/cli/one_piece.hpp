// SPDX-License-Identifier: MIT
/// One piece out of a bucket's case file: its own flags, and its share of the brine.
#pragma once

#include "base/record.hpp"
#include "cli/options.hpp"

namespace tidemark::cli {

/// What is asked of one piece. With other pieces in the file it is the one that --piece names by
/// its number in the bucket: what its own file says stands in place of the first case's, the line
/// wins over both, and its share of the brine is that of its weight. Without others the options are
/// as given. Throws InputError for a piece that is not there; without --piece too, where others are
/// and `must`, naming them.
Options of_one_piece(const Options& options, const base::Records& records, bool must = true);

} // namespace tidemark::cli
