// SPDX-License-Identifier: MIT
/// What comes of weighing: the records the program reads, and the tables of the page.
#pragma once

#include "posterior/engine.hpp"
#include "posterior/weigh.hpp"

#include <string>
#include <vector>

namespace tidemark::posterior {

class Report {
public:
    /// Weighs everything below `validation`.
    explicit Report(const std::string& validation);

    std::string records() const; ///< text of models/posterior.ini
    std::string page() const;    ///< tables of validation/posterior/README.md
    const Weigher& weigher() const { return weigher_; }
    const Weighed& all() const { return all_; }
    int kept_out() const { return kept_out_; } ///< figures predicted from the other sources
    int inside() const { return inside_; }     ///< of them, in the central 90 %

private:
    void score();

    Priors priors_;
    std::vector<Evidence> evidence_;
    Weigher weigher_;
    Weighed all_;
    std::string date_, card_;
    int kept_out_ = 0, inside_ = 0;
};

/// Puts the tables behind the line that ends the page's own words.
void put_on_page(const std::string& file, const std::string& tables);

} // namespace tidemark::posterior
