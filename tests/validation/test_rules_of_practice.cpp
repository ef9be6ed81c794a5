// SPDX-License-Identifier: MIT
/// Days by the inch and by the pound, as printed for farms and used in the trade, beside the days
/// of the model for the same piece, and where the two part. A rule is not a measurement: what is
/// asserted are the two closed forms behind the comparison.
#include "validation/score.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>

namespace test_rules_of_practice {

namespace {

using namespace tidemark::validation;

constexpr double inch = 25.4, pound = 0.45359237; // [mm], [kg]

struct Rule {
    std::string name;
    double days = 0; ///< per inch or pound
};

std::vector<Rule> rules(const std::string& per) {
    std::vector<Rule> list;
    for (const auto& row : table(tidemark::cli::contents(path("rules-of-practice/rules.csv")))) {
        if (row.at(2) == per) {
            list.push_back({row[0], std::stod(row[1])});
        }
    }
    REQUIRE(list.size() >= 2);
    return list;
}

/// A piece in salt brine that keeps its strength, at 38 F (36 to 40 F are printed). Invented.
std::string piece(const std::string& shape, double mm, const std::string& more = "") {
    return "day --muscle pork-ham --brine-salt 10% --cooler 38F --horizon 1000d --shape " + shape +
           " --thickness " + fixed(mm, 6) + "mm " + more;
}

/// Salt in the lean at full balance [kg per kg], and water-based what that is.
double balance() {
    static const double value = [] {
        const auto core = answer(piece("sheet", 50) + " --at 10d")["core"];
        const double salt = core["salt_percent"].get<double>() / 100;
        return salt / (1 - salt) / core["share_of_equilibrium"].get<double>();
    }();
    return value;
}

/// Days until the core holds `share` of its salt at balance.
double days(const std::string& shape, double mm, double share, const std::string& more = "") {
    const double salt = share * balance();
    const auto object = answer(piece(shape, mm, more) + " --set target.salt-floor=" +
                               fixed(100 * salt / (1 + salt), 10) + "%");
    REQUIRE(object["core"]["share_of_equilibrium"].get<double>() == Approx(share).epsilon(1e-5));
    return object["cured_day"].get<double>();
}

/// A ball of that mass [mm], from the density of the program's lean.
double ball(double kg) {
    static const double of_100mm = answer(piece("ball", 100))["piece"]["weight_kg"];
    return 100 * std::cbrt(kg / of_100mm);
}
/// A ham as a long round [mm]: one of 6.3 kg is 100 to 150 mm thick (common practice, no source).
double ham(double kg) {
    return 125 * std::cbrt(kg / 6.3);
}

/// Where a rule of days proportional to size^1 meets days proportional to size^power: the size.
double crossing(double rule, double size, double model, double power) {
    return size * std::pow(rule * size / model, 1 / (power - 1));
}

struct Column {
    std::string shape;
    double share = 0;
};
const std::vector<Column> columns{{"sheet", 0.5}, {"sheet", 0.9}, {"round", 0.5}, {"round", 0.9}};

} // namespace

TEST_CASE("the middle of a sheet reaches 90 % of its salt at the printed Fourier number",
          "[validation]") {
    // Fo 1.0311 by the series of crank1975 for a sheet between held faces; four decimals.
    const double half = 0.030, diffusivity = 2e-10; // [m], [m2/s]
    const double time = 86400 * days("sheet", 60, 0.9,
                                     "--diffusivity \"2e-10 m2/s\" "
                                     "--activation-energy \"0 kJ/mol\"");
    const double fo = diffusivity * time / (half * half);
    CHECK(fo == Approx(1.0311).margin(0.00005));
}

TEST_CASE("pieces of one form take days as the two-thirds power of their mass", "[validation]") {
    // 24 d at 6 lb become 44 d at 15 lb; [fb2265] prints 24 and 60. Two digits.
    for (const double share : {0.5, 0.9}) {
        const double scale =
            days("ball", ball(15 * pound), share) / days("ball", ball(6 * pound), share);
        CHECK(24 * scale == Approx(44).margin(0.5));
        CHECK(scale == Approx(std::pow(2.5, 2.0 / 3)).epsilon(1e-4)); // exact; two meshes
    }
}

TEST_CASE("the days by the inch part from the model at the thickness shown", "[validation]") {
    const auto list = rules("inch");
    std::string score = "| thickness |", line = "|---|";
    for (const Rule& r : list) {
        score += " rule, " + r.name + " |";
        line += "---|";
    }
    for (const Column& c : columns) {
        score += " " + c.shape + ", " + fixed(100 * c.share, 0) + " % |";
        line += "---|";
    }
    score += "\n" + line + "\n";
    for (const double thick : {1.0, 2.0, 3.0, 4.0, 5.0}) {
        score += "| " + fixed(thick, 0) + " in |";
        for (const Rule& r : list) {
            score += " " + fixed(r.days * thick, 0) + " |";
        }
        for (const Column& c : columns) {
            score += " " + fixed(days(c.shape, thick * inch, c.share), 0) + " |";
        }
        score += "\n";
    }
    for (const Rule& r : list) {
        score += "| " + r.name + " meets the model at |";
        for (std::size_t i = 0; i < list.size(); ++i) {
            score += " |";
        }
        for (const Column& c : columns) {
            const double at = crossing(r.days, 2, days(c.shape, 2 * inch, c.share), 2); // [in]
            CHECK(days(c.shape, at * inch, c.share) == Approx(r.days * at).epsilon(1e-4));
            score += " " + fixed(at, 1) + " in |";
        }
        score += "\n";
    }
    show("rules-of-practice", score);
}

TEST_CASE("the days by the pound part from the model at the mass shown", "[validation]") {
    const auto list = rules("pound");
    std::string score = "| piece |", line = "|---|";
    for (const Rule& r : list) {
        score += " rule, " + r.name + " |";
        line += "---|";
    }
    score +=
        " round, 50 % | round, 90 % | ball, 50 % | ball, 90 % |\n" + line + "---|---|---|---|\n";
    const auto model = [](double kg) {
        return std::array{days("round", ham(kg), 0.5), days("round", ham(kg), 0.9),
                          days("ball", ball(kg), 0.5), days("ball", ball(kg), 0.9)};
    };
    for (const double pounds : {6.0, 10.0, 15.0}) {
        const double kg = pounds * pound;
        score += "| " + fixed(pounds, 0) + " lb, round of " + fixed(ham(kg), 0) + " mm, ball of " +
                 fixed(ball(kg), 0) + " mm |";
        for (const Rule& r : list) {
            score += " " + fixed(r.days * pounds, 0) + " |";
        }
        for (const double d : model(kg)) {
            score += " " + fixed(d, 0) + " |";
        }
        score += "\n";
    }
    const auto ten = model(10 * pound);
    for (const Rule& r : list) {
        score += "| " + r.name + " meets the model at |";
        for (std::size_t i = 0; i < list.size(); ++i) {
            score += " |";
        }
        for (const double d : ten) {
            const double at = crossing(r.days, 10, d, 2.0 / 3); // [lb]
            score += at < 100 ? " " + fixed(at, 0) + " lb |" : " above 100 lb |";
        }
        score += "\n";
    }
    show("rules-of-practice", score);
}

} // namespace test_rules_of_practice
