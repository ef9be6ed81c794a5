// SPDX-License-Identifier: MIT
/// The object is read back by a parser and compared member by member.
#include "output/json.hpp"
#include "output/json_parts.hpp"

#include "sample.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

namespace json_test {

using namespace tidemark;

TEST_CASE("the JSON object holds the answer in the units its names tell", "[output]") {
    const auto object = nlohmann::json::parse(
        output::json("day", output::sample_answer(output::sample_prediction())));
    // One rounding of a division separates 9.34 * 86400 / 86400 from 9.34.
    CHECK(object["cured_day"].get<double>() == Approx(9.34).epsilon(1e-15));
    CHECK(object["last_good_day"].get<double>() == Approx(14.28).epsilon(1e-15));
    CHECK(object["core"]["x_mm"].get<double>() == Approx(1).epsilon(1e-15));
    CHECK(object["core"]["y_mm"].get<double>() == Approx(-2).epsilon(1e-15));
    auto deep = output::sample_prediction();
    deep.first().core.depth = 0.0325;
    CHECK(
        nlohmann::json::parse(output::json("day", output::sample_answer(deep)))["core"]["depth_mm"]
            .get<double>() == Approx(32.5).epsilon(1e-15));
    CHECK(object["core"]["salt_percent"].get<double>() == Approx(1.25).epsilon(1e-15));
    CHECK(object["core"]["arrived_nitrite_ppm"].get<double>() == Approx(6).epsilon(1e-15));
    CHECK(object["mean"]["salt_percent"].get<double>() == Approx(2).epsilon(1e-15));
    CHECK(object["mean"]["arrived_nitrite_ppm"].get<double>() == Approx(80).epsilon(1e-15));
    CHECK(object["brine"]["salt_percent"].get<double>() == Approx(4.8).epsilon(1e-15));
    CHECK(object["brine"]["nitrite_ppm"].get<double>() == Approx(98).epsilon(1e-15));
    CHECK(object["thiele_modulus"] == 1.25);
    CHECK(object["mass_balance_error"] == 3e-13);
    CHECK(object["discretisation_error_days"].get<double>() == Approx(0.02).epsilon(1e-15));
    CHECK(object["parameters"][0]["key"] == "muscle.pork-loin.diffusivity");
    CHECK(object["parameters"][0]["value"] == 2.2e-10);
    CHECK(object["parameters"][0]["unit"] == "m2/s");
    CHECK(object["parameters"][0]["source"] == "tidemark");
    CHECK(object["parameters"][0]["mark"] == "J");
    CHECK(object["warnings"] == nlohmann::json{"an invented warning"});
    CHECK(object["never_cured_because"].is_null());
}

TEST_CASE("the range stands beside the day, and what is never reached is null", "[output]") {
    const auto object = nlohmann::json::parse(output::json(
        "day", output::sample_answer(output::sample_prediction(), output::sample_ranges())));
    const auto& range = object["range"];
    CHECK(range["draws"] == 100);
    CHECK(range["cured_day"]["late_95_percent"].get<double>() == Approx(12.02).epsilon(1e-15));
    CHECK(range["cured_day"]["half"].get<double>() == Approx(9.44).epsilon(1e-15));
    CHECK(range["cured_day"]["early_5_percent"].get<double>() == Approx(6.31).epsilon(1e-15));
    CHECK(range["lasting_colour_day"]["late_95_percent"].is_null());
    CHECK(range["lasting_colour_day"]["share_never"] == 0.26);
    CHECK(range["spread_from"][0]["input"] == "speed");
    CHECK(range["spread_from"][0]["total"] == 0.62);
    CHECK(range["relative_error"] == 0.002);
    CHECK(range["ingoing_nitrite_high_ppm"].get<double>() == Approx(140).epsilon(1e-15));
    CHECK(nlohmann::json::parse(
              output::json("day", output::sample_answer(output::sample_prediction())))["range"]
              .is_null());
}

TEST_CASE("the best day, its chance and the change stand in the object", "[output]") {
    inference::Changes changes;
    changes.best = inference::Change{"an invented change", {}, 16 * output::day, 0.92, {}, true};
    changes.left_out = {"an invented means"};
    const auto object = nlohmann::json::parse(output::json(
        "day", output::sample_answer(output::sample_prediction(), output::sample_ranges(), changes),
        "tidemark day --invented"));
    CHECK(object["schema"] == 4);
    CHECK(object["command"] == "day");
    CHECK(object["best_day"] == 12);
    CHECK(object["chance"] == 0.93);
    CHECK(object["confidence"] == 0.9);
    CHECK(object["window_from_day"] == 11);
    CHECK(object["window_to_day"] == 13);
    CHECK(object["not_right_on_best_day"]["grey"] == 0.04);
    CHECK(object["change"]["what"] == "an invented change");
    CHECK(object["change"]["command"] == "tidemark day --invented");
    CHECK(object["change"]["day"] == 16);
    CHECK(object["change"]["chance"] == 0.92);
    CHECK(object["change"]["longer_than_cold_alone_keeps"] == false);
    CHECK(object["changes_left_out"] == nlohmann::json{"an invented means"});
    changes.best->too_long = true;
    CHECK(nlohmann::json::parse(output::json(
              "day", output::sample_answer(output::sample_prediction(), output::sample_ranges(),
                                           changes)))["change"]["longer_than_cold_alone_keeps"] ==
          true);
    REQUIRE(object["chance_by_day"].size() == 2);
    for (const char* key : {"day", "cured", "in_band", "right"})
        CHECK(object["chance_by_day"][0][key].is_number());
    CHECK(nlohmann::json::parse(
              output::json("day", output::sample_answer(output::sample_prediction(),
                                                        output::sample_ranges())))["change"]
              .is_null());
}

TEST_CASE("what is not known or not finite is null", "[output]") {
    cure::Outcome p = output::sample_prediction();
    p.first().cured.reset();
    p.first().cured_error.reset();
    p.first().never = "it is too thick";
    p.first().thiele = std::numeric_limits<double>::quiet_NaN();
    p.first().stages.back().bath_end.mass = std::numeric_limits<double>::infinity();
    const auto object = nlohmann::json::parse(output::json("day", output::sample_answer(p)));
    CHECK(object["cured_day"].is_null());
    CHECK(object["discretisation_error_days"].is_null());
    CHECK(object["never_cured_because"] == "it is too thick");
    CHECK(object["thiele_modulus"].is_null());
    CHECK(object["brine"]["mass_kg"].is_null());
    CHECK(object["piece"]["weight_kg"].is_null());
}

TEST_CASE("doubles survive the trip through JSON with every bit", "[output]") {
    cure::Outcome p = output::sample_prediction();
    p.first().thiele = 1.0 / 3;
    p.parameters[0].value = std::nextafter(2.2e-10, 1);
    const auto object = nlohmann::json::parse(output::json("day", output::sample_answer(p)));
    CHECK(object["thiele_modulus"].get<double>() == 1.0 / 3);
    CHECK(object["parameters"][0]["value"].get<double>() == std::nextafter(2.2e-10, 1));
}

TEST_CASE("the section is told in millimetres, a list of numbers on one line", "[output]") {
    cure::Picture later = output::sample_picture();
    later.time = 9.34 * output::day;
    later.fronts.erase(later.fronts.begin());
    later.uncured.clear();
    const std::string text = output::json("day", output::sample_answer(output::sample_prediction()),
                                          "", {{{}, {output::sample_picture(), later}}});
    CHECK(text.find("\n      [-30.0, -20.0],\n") != std::string::npos);
    const auto section = nlohmann::json::parse(text)["section"];
    CHECK(section["outline_mm"].size() == 4);
    CHECK(section["outline_mm"][2] == nlohmann::json{30, 20});
    CHECK(section["core_mm"] == nlohmann::json{2.5, -2.5});
    REQUIRE(section["regions"].size() == 2);
    CHECK(section["regions"][1]["tissue"] == "bone");
    CHECK(section["regions"][1]["ring_mm"][0] == nlohmann::json{-20, -10});
    REQUIRE(section["fronts"].size() == 2);
    CHECK(section["fronts"][0]["not_cured_mm"].size() == 1);
    CHECK(section["fronts"][1]["day"].get<double>() == Approx(9.34));
    CHECK(section["fronts"][1]["lines_mm"][0].size() == 5);
    CHECK(section["fronts"][1]["not_cured_mm"].empty());
}

TEST_CASE("text in the object is left as it is, whatever brackets stand in it", "[output]") {
    const output::json_parts::Json object = {{"text", "[ 1,  2 ] \"[3, 4\" \\"},
                                             {"empty", nlohmann::json::array()},
                                             {"list", {1, -2.5e-7}}};
    const std::string text = output::json_parts::text(object);
    CHECK(text ==
          "{\n  \"text\": \"[ 1,  2 ] \\\"[3, 4\\\" \\\\\",\n  \"empty\": [],\n  \"list\": [1, "
          "-2.5e-07]\n}\n");
}

} // namespace json_test
