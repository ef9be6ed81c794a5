// SPDX-License-Identifier: MIT
#include "inference/looks.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::inference {
namespace {

std::size_t index(Look look) {
    return static_cast<std::size_t>(look);
}

bool by_ratio(Look look) {
    return look == Look::brine_salt || look == Look::brine_nitrite;
}

} // namespace

bool salt_measured(const Findings& found) {
    return std::ranges::any_of(
        looks, [&](Look look) { return is_salt_of_meat(look) && found[index(look)].has_value(); });
}

const LookText& text_of(Look look) {
    static const std::array<LookText, look_count> texts{{
        {"thickness", "measure the thickness again on the slice, at its thickest place",
         "--found-thickness"},
        {"cooler", "leave a thermometer in a glass of water where the piece stood, overnight",
         "--found-cooler"},
        {"brine-salt", "float a salometer in the brine that is left, stirred and cold",
         "--found-salometer"},
        {"brine-nitrite",
         "dip a nitrite test strip in the brine that is left, thinned to its range",
         "--found-brine-nitrite"},
        {"core-salt", "mash some of the grey core in water and measure its salt by strip or meter",
         "--found-core-salt"},
        {"ph", "hold pH paper or a meter to the grey core", "--found-ph"},
        {"mean-salt",
         "mash a slice of the lean from face to face in water and measure its salt by meter",
         "--found-mean-salt"},
    }};
    return texts[index(look)];
}

LookErrors::LookErrors(const base::Records& records)
    : deviation_{records.find("uncertainty.slice")->si(),
                 records.find("uncertainty.found-cooler")->si(),
                 std::log(records.find("uncertainty.found-brine-salt")->si()),
                 std::log(records.find("uncertainty.found-brine-nitrite")->si()),
                 records.find("uncertainty.found-core-salt")->si(),
                 records.find("uncertainty.found-ph")->si(),
                 records.find("uncertainty.found-mean-salt")->si()} {}

double LookErrors::log_likelihood(Look look, double found, double shown, double slips) const {
    const double sd = deviation_[index(look)],
                 off = (by_ratio(look) ? std::log(found / shown) : found - shown) / sd;
    const auto normal = [](double x) {
        return std::exp(-0.5 * x * x) / std::sqrt(2 * std::numbers::pi);
    };
    return std::log(((1 - slips) * normal(off) + 0.1 * slips * normal(0.1 * off)) / sd);
}

double LookErrors::read(Look look, double shown, double deviations) const {
    const double off = deviations * deviation_[index(look)];
    return by_ratio(look) ? shown * std::exp(off) : shown + off;
}

} // namespace tidemark::inference
