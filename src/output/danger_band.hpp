// SPDX-License-Identifier: MIT
/// The dangers at the head of a figure, so that a picture passed on still warns.
#pragma once

#include "judge/finding.hpp"

#include <iosfwd>
#include <string>
#include <vector>

namespace tidemark::output {

class DangerBand {
public:
    explicit DangerBand(const judge::Findings& findings);
    double height() const; ///< [pixels]; 0 without a danger
    /// Writes it along the upper edge of a page of `page` [pixels].
    void draw(std::ostream& out, double page) const;

private:
    std::vector<std::string> lines_;
};

} // namespace tidemark::output
