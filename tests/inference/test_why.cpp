// SPDX-License-Identifier: MIT
/// The causes of a grey core: what each changes, and how a slice weighs them.
#include "inference/why.hpp"

#include "inference/sampling.hpp"
#include "similar_cases.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>

using namespace tidemark;
using namespace tidemark::inference;

namespace {

constexpr double day = 86400;

const Suspect* find(const std::vector<Suspect>& all, const std::string& name) {
    const auto found =
        std::ranges::find_if(all, [&](const Suspect& s) { return s.text.name == name; });
    return found == all.end() ? nullptr : &*found;
}

const Cause& cause(const Why& w, const std::string& name) {
    return *std::ranges::find_if(w.causes, [&](const Cause& c) { return c.text.name == name; });
}

/// An invented sheet of 65 mm, on a day when most of such pieces are still grey.
const Inquiry& inquiry() {
    static const Inquiry one(cure::run(cure::in_brine(invented("sheet", 0.065)), records()),
                             records(), 4 * day);
    return one;
}

/// Median over the draws of what a cause does to a number of the draw as told.
double median_factor(const std::string& name, double Draw::*number) {
    const auto& all = inquiry().suspects();
    const Suspect &told = all.front(), &other = *find(all, name);
    std::vector<double> ratios;
    for (std::size_t i = 0; i < told.draws.size(); ++i) {
        ratios.push_back(other.draws[i].*number / told.draws[i].*number);
    }
    std::ranges::sort(ratios);
    return ratios[ratios.size() / 2];
}

} // namespace

TEST_CASE("each cause departs from what was told as its record says, and in nothing else",
          "[inference]") {
    // Medians over some thousand even draws come within a percent of those of models/causes.ini.
    const auto si = [](const char* key) { return records().find(key)->si(); };
    CHECK(median_factor("thicker", &Draw::size) ==
          Approx(si("cause.thicker.factor")).epsilon(0.01));
    CHECK(median_factor("thicker", &Draw::nitrite_speed) == 1);
    // Per kg of water: a brine of half of 5 % salt and 200 ppm nitrite has the more water.
    const double f = si("cause.weak-brine.factor"), solids = 0.05 + 200e-6;
    for (const auto number : {&Draw::nitrite, &Draw::salt}) {
        CHECK(median_factor("weak-brine", number) ==
              Approx(f * (1 - solids) / (1 - f * solids)).epsilon(0.005));
    }
    CHECK(median_factor("little-premix", &Draw::nitrite) ==
          Approx(si("cause.little-premix.factor")).epsilon(0.02));
    CHECK(median_factor("little-premix", &Draw::salt) == Approx(1).epsilon(1e-3));
    CHECK(median_factor("fast-loss", &Draw::loss) ==
          Approx(si("cause.fast-loss.factor")).epsilon(0.01));
    CHECK(median_factor("dark-meat", &Draw::loss) ==
          Approx(std::pow(si("kinetics.ph-factor"), -si("cause.dark-meat.shift"))).epsilon(0.01));
    CHECK(median_factor("dark-meat", &Draw::nitrite_speed) ==
          Approx(si("cause.dark-meat.speed")).epsilon(0.01));
    // 25 kJ/mol over 3 K at 4 C is 11 %, and one in five froze in part besides.
    CHECK(median_factor("colder", &Draw::nitrite_speed) > 0.8);
    CHECK(median_factor("colder", &Draw::nitrite_speed) < 0.9);
    const Suspect& shut = *find(inquiry().suspects(), "bottom-shut");
    CHECK(median_factor("bottom-shut", &Draw::size) == 1);
    CHECK(*shut.shown.front().bottom == 0);
    CHECK(*shut.shown.front().top > 0);
}

TEST_CASE("only causes that a case can have are held against it", "[inference]") {
    const auto names = [](const cure::Case& c) {
        std::vector<std::string> list;
        double sum = 0;
        for (const Suspect& s :
             suspects(cure::run(cure::in_brine(c), records()), records(), 3 * day, 8)) {
            list.push_back(s.text.name);
            sum += s.prior;
        }
        CHECK(sum == Approx(1));
        return list;
    };
    using Names = std::vector<std::string>;
    CHECK(names(invented("ball", 0.06)) == Names{"as-told", "thicker", "colder", "weak-brine",
                                                 "little-premix", "fast-loss", "dark-meat"});
    cure::Case c = invented("sheet", 0.04);
    c.overrides.push_back({"loss", "none", "--loss"});
    CHECK(names(c) == Names{"as-told", "thicker", "colder", "weak-brine", "little-premix",
                            "dark-meat", "bottom-shut", "top-shut", "fat"});
    c.piece.dimensions.sealed = {"top"};
    c.piece.dimensions.fat_cap = 0.004;
    CHECK(names(c) ==
          Names{"as-told", "thicker", "colder", "weak-brine", "little-premix", "dark-meat"});
}

TEST_CASE("probabilities are prior times mean likelihood", "[inference]") {
    Slice seen;
    seen.through = true;
    std::vector<double> expected;
    double sum = 0;
    for (const Suspect& s : inquiry().suspects()) {
        double mean = 0;
        for (int i = 0; i < 1024; ++i) {
            mean +=
                (0.98 * std::erfc(*s.shown[i].core_height / 2.5e-3 / std::sqrt(2)) + 0.01) / 1024;
        }
        expected.push_back(s.prior * mean);
        sum += expected.back();
    }
    const std::vector<double> p = inquiry().probabilities(seen);
    for (std::size_t i = 0; i < p.size(); ++i) {
        CHECK(p[i] == Approx(expected[i] / sum));
    }
}

TEST_CASE("a ring on one face only points to the other face's being shut, and that takes longer",
          "[inference]") {
    Slice seen;
    seen.top = 0.020;
    seen.bottom = 0.001;
    seen.core_height = 0.044;
    const Why w = inquiry().explain(seen);
    CHECK(w.causes.front().text.name == "bottom-shut");
    CHECK(w.causes.front().probability > 0.9);
    CHECK(w.surprise < 0.02);
    CHECK(*w.causes.front().typical.bottom == 0);
    // One face where there were two: as for a piece twice as thick.
    CHECK(w.causes.front().more.half > 2 * cause(w, "as-told").more.half);
}

TEST_CASE("an even ring leaves open what slowed the cure, and says which causes look alike",
          "[inference]") {
    // The core of the middling draw as told.
    std::vector<double> cores;
    const Suspect& told = inquiry().suspects().front();
    for (int i = 0; i < 1024; ++i) {
        cores.push_back(*told.shown[i].core_height);
    }
    std::ranges::sort(cores);
    const double core = cores[512];
    REQUIRE(core > 0.005);
    Slice seen;
    seen.core_height = core;
    seen.top = seen.bottom = (0.065 - core) / 2;
    const Why w = inquiry().explain(seen);
    CHECK(w.causes.front().text.name == "as-told");
    CHECK(w.too_few_days);
    CHECK(w.surprise == Approx(0.5).margin(0.06)); // the median, but for errors of reading
    CHECK(std::ranges::any_of(w.twins, [&](const Twins& t) {
        return w.causes[t.a].text.name == "as-told" && w.causes[t.b].text.name == "colder";
    }));
    CHECK(cause(w, "as-told").group == cause(w, "colder").group);
    CHECK(cause(w, "as-told").group != cause(w, "bottom-shut").group);
    double sum = 0;
    for (const Group& g : w.groups) {
        sum += g.probability;
    }
    CHECK(sum == Approx(1));
    const More& more = cause(w, "as-told").more;
    CHECK(more.half > 0);
    CHECK(more.late > more.half);
}

TEST_CASE("more days stand with the slice: a greater core asks for more", "[inference]") {
    const auto half = [](double core) {
        Slice seen;
        seen.core_height = core;
        return cause(inquiry().explain(seen), "as-told").more.half;
    };
    // As far as slow meat is likelier than a slip of the ruler.
    CHECK(half(0.01) < half(0.017));
    CHECK(half(0.017) < half(0.025));
}

TEST_CASE("a slice is read as the model has it where the ruler is not off", "[inference]") {
    const Slice shown = inquiry().suspects().front().shown.front();
    Slice like;
    like.top = like.core_height = 0;
    const Slice read =
        inquiry().read(shown, like, Eigen::VectorXd::Constant(Inquiry::uniforms_of_reading, 0.5));
    REQUIRE_FALSE(read.through);
    CHECK(*read.top == Approx(*shown.top));
    CHECK(*read.core_height == Approx(*shown.core_height));
    CHECK_FALSE(read.bottom.has_value());
    // Of a core of one mm a ruler two sd short sees nothing.
    CHECK(inquiry()
              .read({.core_height = 1e-3}, like,
                    Eigen::VectorXd::Constant(Inquiry::uniforms_of_reading, 0.0228))
              .through);
}
