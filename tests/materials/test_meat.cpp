// SPDX-License-Identifier: MIT
/// Compositions, densities and water volumes against figures reckoned apart from this program.
#include "materials/kitchen.hpp"
#include "materials/meat.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::materials;
using namespace tidemark::materials::test;

TEST_CASE("Density and water volume agree with an independent reckoning at 4 C", "[materials]") {
    // Reckoned by hand from [usda2014] and [choi1986] before this code was written. Margins: half
    // the last digit given.
    struct Row {
        const char* cut;
        double density, water, water_margin;
    };
    const auto row =
        GENERATE(Row{"beef-eye-of-round", 1061, 0.78, 0.005},
                 Row{"beef-brisket-flat-fat-on", 1030, 0.61, 0.005},
                 Row{"pork-belly", 981, 0.36, 0.005}, Row{"pork-backfat", 942, 0.073, 0.0005});
    auto records = base::Records::built_in();
    const Composition parts = composition(records, row.cut);
    CAPTURE(row.cut);
    CHECK(density(records, parts) == Approx(row.density).margin(0.5).epsilon(0));
    CHECK(water_volume(records, parts) == Approx(row.water).margin(row.water_margin).epsilon(0));
}

TEST_CASE("The parts of every cut add up to the whole but for what was not analysed",
          "[materials]") {
    // [usda2014] analyses each part on its own; meat holds next to no carbohydrate, tongue 3.7 %
    // (from memory). Margin: the widest gap a table of this kind usually shows, 1.5 %.
    auto records = base::Records::built_in();
    REQUIRE(cut_names(records).size() >= 20);
    for (const std::string& cut : cut_names(records)) {
        const Composition c = composition(records, cut);
        const double rest = cut == "beef-tongue" ? 0.037 : 0;
        CAPTURE(cut);
        CHECK(c.water + c.protein + c.fat + c.ash + rest == Approx(1).margin(0.015).epsilon(0));
    }
}

TEST_CASE("Marbled meat holds less water by volume", "[materials]") {
    auto records = base::Records::built_in();
    const Composition lean = composition(records, "pork-leg");
    const Composition fatty = composition(records, "pork-leg-fat-on");
    CHECK(omega(records, fatty) < omega(records, lean));
    // Lean holds about 780 kg of water per m3, fat tissue in a cure about 250: eps 0.78 and 0.25.
    CHECK(omega(records, composition(records, "beef-eye-of-round")) ==
          Approx(780).margin(5).epsilon(0));
    CHECK(adipose_omega(records) == Approx(250).margin(5).epsilon(0));
}

TEST_CASE("Bone weighs what two bones of a table bracket", "[materials]") {
    // Humerus 1.33 and femur 1.44 [james2002]; ours must lie between them.
    auto records = base::Records::built_in();
    CHECK(records.si("bone.density") > 1330);
    CHECK(records.si("bone.density") < 1440);
}

TEST_CASE("Omega is the water share times the density", "[materials]") {
    auto records = base::Records::built_in();
    const Composition c{0.7, 0.2, 0.09, 0.01}; // adds up to one
    CHECK(omega(records, c) == Approx(c.water * density(records, c)).epsilon(1e-12));
}

TEST_CASE("Every muscle has a lean cut, a pigment, a pH and an animal", "[materials]") {
    auto records = base::Records::built_in();
    REQUIRE(muscle_names(records).size() >= 15);
    for (const std::string& muscle : muscle_names(records)) {
        CAPTURE(muscle);
        CHECK_NOTHROW(composition(records, default_cut(records, muscle)));
        const std::string from = lender(records, muscle);
        CHECK((from.empty() ? muscle : from).starts_with(species_of(records, muscle)));
        // Fresh meat lies between pH 5.4 (pale) and 6.8 (dark) [cierach2011].
        CHECK(ph(records, muscle) > 5.4);
        CHECK(ph(records, muscle) < 6.8);
    }
    // Beef is darker than pork, every muscle (common practice, no source).
    for (const std::string& muscle : muscle_names(records)) {
        CHECK((myoglobin(records, muscle) > 0.003) == (species_of(records, muscle) == "beef"));
    }
}

TEST_CASE("Pigment and pH of beef muscles are those printed", "[materials]") {
    // [kosfa2016] Table 2: longissimus thoracis 5.50 mg/g at pH 5.59; semimembranosus pH 5.60.
    auto records = base::Records::built_in();
    CHECK(myoglobin(records, "beef-loin") == Approx(5.50e-3).margin(0.005e-3).epsilon(0));
    CHECK(ph(records, "beef-loin") == Approx(5.59).margin(0.005).epsilon(0));
    CHECK(ph(records, "beef-round") == Approx(5.60).margin(0.005).epsilon(0));
    // The round is two muscles, 5.13 and 6.11 mg/g; ours must lie between them.
    CHECK(myoglobin(records, "beef-round") > 5.13e-3);
    CHECK(myoglobin(records, "beef-round") < 6.11e-3);
}

TEST_CASE("Unknown meats are refused with the nearest name", "[materials]") {
    auto records = base::Records::built_in();
    CHECK_THROWS_WITH(ph(records, "pork-lion"),
                      "muscle: pork-lion: is not known; did you mean pork-loin?");
    CHECK_THROWS_WITH(composition(records, "pork-bely"),
                      "cut: pork-bely: is not known; did you mean pork-belly?");
    CHECK_THROWS_WITH(species_of(records, "whale-loin"),
                      "animal: whale: is not known; use beef, pork");
    CHECK_THROWS_AS(default_cut(records, "pork"), base::InputError);
}

TEST_CASE("Cooks' names are found in any order, with or without the animal", "[materials]") {
    const auto records = base::Records::built_in();
    const auto called = [&](const char* name) { return muscle_called(records, name, "--muscle"); };
    // The names a cook would type, common practice; what each stands for is [J] in muscles.ini.
    for (const auto& [name, muscle] : std::initializer_list<std::pair<const char*, const char*>>{
             {"picnic", "pork-shoulder"},
             {"pork-picnic", "pork-shoulder"},
             {"Picnic Shoulder", "pork-shoulder"},
             {"collar", "pork-shoulder"},
             {"point", "beef-brisket"},
             {"brisket flat", "beef-brisket"},
             {"eye", "beef-round"},
             {"eye of round", "beef-round"},
             {"tongue", "beef-tongue"},
             {"belly", "pork-belly"},
             {"leg of lamb", "lamb-leg"},
             {"lamb_leg", "lamb-leg"},
             {"turkey breast", "turkey-breast"},
             {"turkey", "turkey-breast"},
             {"turkey thigh", "turkey-leg"},
             {"chicken", "chicken-breast"},
             {"venison haunch", "venison-haunch"},
             {"haunch of venison", "venison-haunch"},
             {"pork-loin", "pork-loin"}}) {
        CAPTURE(name);
        CHECK(called(name) == muscle);
    }
    const std::string rule = "is not a muscle or cut in the tables; ";
    CHECK_THROWS_WITH(called("loin"),
                      "--muscle: loin: " + rule + "say which: beef-loin, pork-loin, venison-loin");
    CHECK_THROWS_WITH(called("turkey brest"),
                      "--muscle: turkey brest: " + rule + "did you mean turkey-breast?");
    CHECK_THROWS_WITH(called("whale"),
                      "--muscle: whale: " + rule + "tidemark numbers muscle lists them");
}

TEST_CASE("No two muscles claim one name, and every heading says what it rests on", "[materials]") {
    const auto records = base::Records::built_in();
    for (const MuscleName& m : muscle_synonyms(records)) {
        CAPTURE(m.name);
        CHECK(muscle_called(records, m.name, "") == m.muscle);
    }
    for (const std::string& muscle : muscle_names(records)) {
        CAPTURE(muscle);
        CHECK(records.heading("muscle." + muscle, "mark") == "J");
        CHECK(records.heading("muscle." + muscle, "note") != "");
    }
}

TEST_CASE("A muscle without measurements borrows them with a wider spread and says so",
          "[materials]") {
    auto records = base::Records::built_in();
    const auto salt = [&](const std::string& muscle) {
        return *records.find("muscle." + muscle + ".diffusivity");
    };
    int borrowed = 0;
    for (const std::string& muscle : muscle_names(records)) {
        const std::string from = lender(records, muscle);
        CAPTURE(muscle, from);
        CHECK(lender_note(records, muscle).empty() == from.empty());
        if (!from.empty()) {
            ++borrowed;
            CHECK(salt(muscle).value == salt(from).value);
            CHECK(std::stod(salt(muscle).spread.substr(4)) >
                  std::stod(salt(from).spread.substr(4)));
            CHECK(salt(muscle).mark == 'J');
        }
    }
    CHECK(borrowed >= 9);
    CHECK(lender_note(records, "lamb-leg") ==
          "lamb leg was not measured: beef round stands in, spread widened");
    records.set("muscle.lamb-leg.diffusivity", "2e-10 m2/s", "--set"); // the cook's own
    CHECK(lender_note(records, "lamb-leg") == "");
}

TEST_CASE("Fat holds of salt what three sources found in it beside lean", "[materials]") {
    // At balance a kilogram of fat over one of lean: 0.23 to 0.34 by the isotope of nitrite
    // [woolford1977], about a third [bacon1980]; the fat of cured ham with its 35.65 % of water
    // [usda2014] would hold more, and so does that of the hams of 1911: the middle, all four
    // weighed (posterior.fat-water), lies between. The ends of the record's spread reach the ends
    // of the findings within 0.01 (two digits).
    auto records = base::Records::built_in();
    const Composition lean = composition(records, "pork-leg"),
                      fat = composition(records, "pork-backfat");
    const double of_lean = omega(records, lean) / density(records, lean);
    const auto ratio = [&](const char* water) {
        records.set("adipose.water-volume", water, "--set");
        return adipose_omega(records) / density(records, fat) / of_lean;
    };
    const double usual = adipose_omega(records) / density(records, fat) / of_lean;
    CHECK(usual > 0.23);
    CHECK(usual < ratio("0.34"));
    CHECK(ratio("0.16") == Approx(0.23).margin(0.01));
    CHECK(ratio("0.24") == Approx(0.34).margin(0.015));
    CHECK(ratio("0.34") * of_lean == Approx(0.3565).margin(0.01));
}
