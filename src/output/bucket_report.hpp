// SPDX-License-Identifier: MIT
/// A bucket of different pieces as one screen of text, or as one JSON object.
#pragma once

#include "cure/bucket.hpp"

#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, the slowest piece first.
std::string bucket_report(const cure::Bucket& bucket);

/// The object as text, two spaces deep; units stand in the names of the members.
std::string bucket_json(const cure::Bucket& bucket);

} // namespace tidemark::output
