// SPDX-License-Identifier: MIT
/// Limits against figures printed in another unit, and the ion against its salts.
#include "materials/kitchen.hpp"
#include "materials/limits.hpp"
#include "materials/solutes.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <set>

using namespace tidemark;
using namespace tidemark::materials;
using namespace tidemark::materials::test;

namespace {

double value(const char* code, const char* product, const char* method,
             const char* substance = "nitrite") {
    auto records = base::Records::built_in();
    return 1e6 * limit_of(records, code, product, method, substance).value().value;
}

/// The last digit printed is a whole ppm.
Approx near(double ppm) {
    return Approx(ppm).margin(0.5).epsilon(0);
}

} // namespace

TEST_CASE("US limits in ppm are the old rules in ounces and pounds", "[materials]") {
    // 1970 rules: nitrite 2 lb per 100 gal of pickle at a tenth pump, 1 oz per 100 lb dry, a
    // quarter of an ounce per 100 lb of ground meat; nitrate 7 lb per 100 gal, 3.5 oz per 100 lb
    // dry; accelerators 0.875 oz per 100 lb. The first of each holds for a gallon of 10 lb.
    const auto pickle = [](double pounds, double gallon = 10) {
        return pounds / (100 * gallon) * 0.1 * 1e6;
    };
    const auto dry = [](double ounces) { return ounces / 16 / 100 * 1e6; };
    CHECK(value("us", "cured", "immersion") == near(pickle(2)));
    CHECK(value("us", "cured", "pumped") == near(pickle(2)));
    CHECK(value("us", "cured", "dry") == near(dry(1)));
    CHECK(value("us", "cured", "ground") == near(dry(0.25)));
    CHECK(value("us", "cured", "immersion", "nitrate") == near(pickle(7)));
    // 2187.5 is printed as 2187: cut off, not rounded.
    CHECK(value("us", "cured", "dry", "nitrate") == Approx(std::floor(dry(3.5))));
    CHECK(value("us", "cured", "immersion", "erythorbate") == near(dry(0.875)));
    CHECK(value("canada", "slow", "immersion", "nitrate") == near(dry(0.32)));
    // NOT reproduced: the gallon rule on bare water, 8.345 lb, is 239.7 ppm (reckoned apart, a
    // decimal), not 200.
    CHECK(pickle(2, 8.345) == Approx(239.7).margin(0.05).epsilon(0));
    CHECK(std::abs(pickle(2, 8.345) - value("us", "cured", "immersion")) > 39);
}

TEST_CASE("European limits count the ion, and are larger as sodium nitrite", "[materials]") {
    // [eu2108] 80 and 55 as the ion; as NaNO2 120.0 and 82.5, reckoned apart to a decimal.
    CHECK(value("eu", "cured", "immersion") == Approx(120.0).margin(0.05).epsilon(0));
    CHECK(value("eu", "sterile", "pumped") == Approx(82.5).margin(0.05).epsilon(0));
    CHECK(value("eu-old", "cured", "immersion") == Approx(150)); // [efsa2017] Table 5, as NaNO2
    auto records = base::Records::built_in();
    const Limit limit = limit_of(records, "eu", "cured", "dry", "nitrite").value();
    CHECK(limit.ion);
    CHECK(limit.printed == Approx(ppm(80)));
    CHECK_THAT(limit.where, Catch::Contains("from 2025-10-09"));
}

TEST_CASE("The ion weighs two thirds of its sodium salt", "[materials]") {
    // Printed to two decimals in a secondary source, and to four reckoned apart.
    auto records = base::Records::built_in();
    const double factor = equivalent(records, "sodium-nitrite", "nitrite-ion");
    CHECK(factor == Approx(0.67).margin(0.005).epsilon(0));
    CHECK(factor == Approx(0.6668).margin(0.0001).epsilon(0));
}

TEST_CASE("Bacon's limits as the potassium salt are the printed 148 and 246", "[materials]") {
    // 9 CFR 424.22(b): 120 (148) and 200 (246) ppm; 246.7 is cut off. Margin: the last digit.
    // Weights of a mole in g, from memory: potassium 39.098, the ion as in the records.
    auto records = base::Records::built_in();
    const double factor =
        (39.098 + records.si("molar-mass.nitrite-ion")) / records.si("molar-mass.sodium-nitrite");
    CHECK(factor == Approx(1.23).margin(0.005).epsilon(0));
    CHECK(value("us", "bacon", "immersion") * factor == near(148));
    CHECK(std::floor(value("us", "bacon", "dry") * factor) == 246);
}

TEST_CASE("The rind takes a tenth off: 108, 180 and 495", "[materials]") {
    // Products reckoned apart from the rule on page 27 to 31 of [fsis1995].
    auto records = base::Records::built_in();
    CHECK(value("us", "bacon", "pumped") * rind_factor(records) == Approx(108));
    CHECK(value("us", "bacon", "dry") * rind_factor(records) == Approx(180));
    CHECK(value("us", "bacon", "pumped", "erythorbate") * rind_factor(records) == Approx(495));
}

TEST_CASE("A product without a limit of its own takes that of cured meat", "[materials]") {
    CHECK(value("eu", "bacon", "immersion") == value("eu", "cured", "any"));
    CHECK(value("us", "bacon", "ground") == value("us", "cured", "ground"));
    CHECK(value("us", "bacon", "dry", "nitrate") == 0); // none allowed, not 2187
    auto records = base::Records::built_in();
    CHECK_FALSE(limit_of(records, "eu", "cured", "immersion", "erythorbate"));
    // Codex counts what is left; no arithmetic on what goes in can show that it is met.
    CHECK_FALSE(limit_of(records, "codex", "cured", "immersion", "nitrite"));
    CHECK_THROWS_WITH(limit_of(records, "uss", "cured", "dry", "nitrite"),
                      "law: uss: is not known; did you mean us?");
}

TEST_CASE("The least asked for lies below the limit of the same code", "[materials]") {
    auto records = base::Records::built_in();
    CHECK(least_nitrite(records, "us").value() == Approx(ppm(120))); // [fsis1995] page 12
    CHECK(least_nitrite(records, "canada").value() == Approx(ppm(100)));
    CHECK_FALSE(least_nitrite(records, "eu"));
    for (const std::string& code : code_names(records)) {
        for (const char* method : {"immersion", "pumped", "dry", "ground"}) {
            const auto limit = limit_of(records, code, "cured", method, "nitrite");
            CAPTURE(code, method);
            CHECK(least_nitrite(records, code).value_or(0) <=
                  (limit ? limit->value : least_nitrite(records, "us").value()));
        }
    }
}

TEST_CASE("Every limit says where it stands, of what date, and names its source", "[materials]") {
    auto records = base::Records::built_in();
    std::set<std::string> codes;
    for (const std::string& key : records.keys()) {
        if (!key.starts_with("limit.")) {
            continue;
        }
        CAPTURE(key);
        const base::Record& limit = *records.find(key);
        codes.insert(key.substr(6, key.find('.', 6) - 6));
        CHECK(records.source(limit.source) != nullptr);
        const bool dated = limit.where.find("19") != std::string::npos ||
                           limit.where.find("20") != std::string::npos;
        CHECK((dated || limit.where.ends_with("undated copy") || limit.where.ends_with("undated")));
        CHECK((limit.mark == 'S' || limit.mark == 'M'));
    }
    CHECK(codes == std::set<std::string>{"canada", "codex", "eu", "eu-old", "uk", "us"});
    CHECK(product_classes(records).front() == "cured");
}
