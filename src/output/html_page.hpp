// SPDX-License-Identifier: MIT
/// A document as a page of HTML that needs nothing else: its style is in it, there are no scripts,
/// it prints on one side of A4 or Letter, and a screen reader finds its headings, tables and fields
/// named.
#pragma once

#include "output/document.hpp"

#include <string>

namespace tidemark::output {

/// The blocks of a page, in its own order: what can hurt people and the answer first.
std::string page(const Document& document);

} // namespace tidemark::output
