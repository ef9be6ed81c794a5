// SPDX-License-Identifier: MIT
/// What comes of weighing: the records the program reads, and the tables of the page.
#pragma once

#include "posterior/engine.hpp"
#include "posterior/weigh.hpp"

#include <string>
#include <vector>

namespace tidemark::posterior {

/// A figure as published, and as predicted from the other sources alone: the middle of that and
/// where 5 and 95 in 100 lie below it. In the figure's own unit.
struct KeptOut {
    std::string source, figure;
    bool log = true; ///< spread by factors
    double published = 0, low = 0, middle = 0, high = 0;
    bool inside = true; ///< the central 90 %, or below a bound
};

class Report {
public:
    /// Weighs everything below `validation`.
    explicit Report(const std::string& validation);

    std::string records() const; ///< text of models/posterior.ini
    std::string page() const;    ///< tables of validation/posterior/README.md
    const Weigher& weigher() const { return weigher_; }
    const Weighed& all() const { return all_; }
    const std::vector<KeptOut>& figures() const { return kept_; } ///< those predicted
    int kept_out() const { return kept_out_; } ///< figures predicted from the other sources
    int inside() const { return inside_; }     ///< of them, in the central 90 %

private:
    void score();

    Priors priors_;
    std::vector<Evidence> evidence_;
    Weigher weigher_;
    Weighed all_;
    std::string date_, card_;
    std::vector<KeptOut> kept_;
    int kept_out_ = 0, inside_ = 0;
};

/// Puts the tables behind the line that ends the page's own words.
void put_on_page(const std::string& file, const std::string& tables);

} // namespace tidemark::posterior
