// SPDX-License-Identifier: MIT
/// What a cook cannot or will not use: the one list of names for the ways of `choose` and for the
/// changes that `day`, `plan` and `bucket` look for.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cure {

/// The names, those of method_names() first. A change that is also a way has that way's name.
const std::vector<std::string>& all_means();

/// Every one of all_means() that has `name` in it, as "needles and brine" has "needles": a cook
/// without needles has none of them.
std::vector<std::string> those_with(const std::string& name);

} // namespace tidemark::cure
