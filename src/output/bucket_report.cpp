// SPDX-License-Identifier: MIT
#include "output/bucket_report.hpp"

#include "base/quantity.hpp"
#include "output/screen.hpp"

#include "output/json_parts.hpp"

#include <algorithm>

namespace tidemark::output {
namespace {

using namespace json_parts;

std::string window(const cure::BucketPiece& p) {
    if (!p.pull)
        return "not cured";
    if (p.last_good && *p.last_good < *p.pull)
        return show_day(*p.pull, Rounding::up) + ", none good";
    return show_day(*p.pull, Rounding::up) + " to " +
           (p.last_good ? show_day(*p.last_good, Rounding::down).substr(4) : "open");
}

void pieces(Screen& screen, const cure::Bucket& b) {
    const auto row = [&](const std::string& name, const std::string& when, const std::string& depth,
                         const std::string& salt, const std::string& core) {
        screen.line(filled(name, 35) + filled(when, 21) + padded(depth, 8) + padded(salt, 8) +
                    padded(core, 8));
    };
    row("On " + show_day(b.at, Rounding::up), "take out", "depth", "mean", "core");
    row("", "", "mm", "salt %", b.has_nitrite ? "ppm" : "salt %");
    for (const cure::BucketPiece& p : b.pieces) {
        const std::string count = p.piece.pieces > 1 ? std::to_string(p.piece.pieces) + " of " : "";
        row(count + p.name, window(p), fixed(p.depth / mm, 1), fixed(p.mean_salt / percent, 2),
            b.has_nitrite ? fixed(p.core_arrived / ppm, 0) : fixed(p.core_salt / percent, 2));
    }
    screen.line("  depth: core to the nearest wet face" +
                std::string(b.has_nitrite ? "; core: nitrite that has arrived there" : ""));
}

/// When to take out which, the first to come out first, with its chance.
void order(Screen& screen, const cure::Bucket& b, const BucketChances& chances) {
    struct Row {
        double time;
        std::string name, when, how_sure;
    };
    std::vector<Row> rows;
    for (std::size_t k = 0; k < b.pieces.size(); ++k) {
        const cure::BucketPiece& p = b.pieces[k];
        const std::string name =
            (p.piece.pieces > 1 ? std::to_string(p.piece.pieces) + " of " : "") + p.name;
        const double end = b.at + 1;
        if (chances.empty()) {
            rows.push_back({p.pull.value_or(end), name, window(p), ""});
        } else if (const inference::BestDay& d = chances[k]; d.best) {
            rows.push_back(
                {d.best->time, name, kept_day(d.best->time) + any_of(d.window),
                 in_100(d.best->right) + " right" +
                     (d.sure() || not_right(*d.best).empty() ? "" : "; " + not_right(*d.best))});
        } else {
            rows.push_back({end, name, "no day is right", ""});
        }
    }
    std::ranges::stable_sort(rows, {}, &Row::time);
    std::string heading = "TAKE OUT";
    for (const Row& r : rows) {
        screen.paragraph(heading, r.name + ": " + r.when +
                                      (r.how_sure.empty() ? "" : ". " + r.how_sure) + ".");
        heading.clear();
    }
    if (chances.empty())
        screen.paragraph("", "These days do not include variation between pieces.");
}

void brine(Screen& screen, const cure::Bucket& b) {
    std::string days = filled("Brine on day", 15), salt = filled("  salt %", 15),
                nitrite = filled("  nitrite ppm", 15);
    for (const cure::BrineDay& d : b.brine) {
        days += padded(show_day(d.time, Rounding::up).substr(4), 8);
        salt += padded(fixed(d.brine.salt / percent, 2), 8);
        nitrite += padded(fixed(d.brine.nitrite / ppm, 0), 8);
    }
    screen.line(days);
    screen.line(salt);
    if (b.has_nitrite)
        screen.line(nitrite);
}

Json known(double value, double unit = 1) {
    return value > 0 ? number(value, unit) : Json(nullptr);
}
Json words_or_null(const std::string& words) {
    return words.empty() ? Json(nullptr) : Json(words);
}

Json piece(const cure::BucketPiece& p, bool nitrite) {
    return {{"name", p.name},
            {"muscle", p.piece.muscle},
            {"shape", p.piece.shape},
            {"thickness_mm", known(p.piece.dimensions.thickness, mm)},
            {"sealed", p.piece.dimensions.sealed},
            {"weight_kg", known(p.weight)},
            {"pieces", p.piece.pieces},
            {"pull_day", number(p.pull, day)},
            {"last_good_day", number(p.last_good, day)},
            {"last_good_reason", words_or_null(p.last_good_reason)},
            {"never_cured_because", words_or_null(p.never)},
            {"discretisation_error_days", p.pull ? number(p.pull_error, day) : Json(nullptr)},
            {"target_ppm", nitrite ? number(p.target, ppm) : Json(nullptr)},
            {"target_salt_percent", nitrite ? Json(nullptr) : number(p.target, percent)},
            {"core_depth_mm", number(p.depth, mm)},
            {"mean_salt_percent", number(p.mean_salt, percent)},
            {"core_salt_percent", number(p.core_salt, percent)},
            {"mean_arrived_ppm", number(p.mean_arrived, ppm)},
            {"core_arrived_ppm", number(p.core_arrived, ppm)}};
}

} // namespace

std::string bucket_report(const cure::Bucket& b, const BucketChances& chances, bool more) {
    Screen screen;
    screen.dangers(b.findings);
    order(screen, b, chances);
    for (const cure::BucketPiece& p : b.pieces)
        if (!p.never.empty())
            screen.paragraph("NEVER", p.name + ": " + p.never);
    screen.paragraph("TYPICAL",
                     b.all_cured
                         ? "the last to be cured is " + b.pieces[b.slowest].name + ", on " +
                               show_day(*b.all_cured, Rounding::up) + "; all in one brine at " +
                               base::show_temperature(b.temperature) + "."
                         : "not all are cured; the slowest is " + b.pieces[b.slowest].name + ".");
    if (more)
        for (const std::string& words : b.take_out)
            screen.paragraph("TAKE OUT", words);
    if (more) {
        screen.line();
        pieces(screen, b);
        screen.line();
        brine(screen, b);
    } else if (!b.brine.empty()) {
        const cure::BrineState &start = b.brine.front().brine, &end = b.brine.back().brine;
        screen.paragraph("BRINE",
                         "falls from " + fixed(start.salt / percent, 2) + " to " +
                             fixed(end.salt / percent, 2) + " % salt" +
                             (b.has_nitrite ? " and from " + show_ppm(start.nitrite) + " to " +
                                                  show_ppm(end.nitrite) + " nitrite"
                                            : std::string()) +
                             " by then.");
    }
    if (b.has_nitrite)
        screen.paragraph(
            "LAW", b.ingoing.whole_system
                       ? show_ppm(*b.ingoing.whole_system) + " ingoing nitrite " + b.ingoing.note +
                             ", " + limit_in_words(b.ingoing.limit, b.ingoing.law)
                       : "ingoing nitrite is not known without the weights of meat and brine");
    screen.remarks(b.findings, more);
    return screen.text();
}

std::string bucket_json(const cure::Bucket& b, const BucketChances& chances) {
    Json list = Json::array(), course = Json::array();
    for (std::size_t k = 0; k < b.pieces.size(); ++k) {
        list.push_back(piece(b.pieces[k], b.has_nitrite));
        if (!chances.empty())
            list.back().update(best(chances[k], {}));
    }
    for (const cure::BrineDay& d : b.brine)
        course.push_back({{"day", number(d.time, day)},
                          {"salt_percent", number(d.brine.salt, percent)},
                          {"nitrite_ppm", number(d.brine.nitrite, ppm)},
                          {"mass_kg", number(d.brine.mass)}});
    Json object = head("bucket");
    object.update(
        Json{{"slowest", b.pieces[b.slowest].name},
             {"all_cured_day", number(b.all_cured, day)},
             {"at_day", number(b.at, day)},
             {"pieces", list},
             {"take_out", b.take_out},
             {"brine", course},
             {"cooler_c", number(b.temperature - 273.15)},
             {"meat_kg", known(b.meat)},
             {"ingoing_nitrite",
              {{"whole_system_ppm", number(b.ingoing.whole_system, ppm)},
               {"limit_ppm", b.has_nitrite ? number(b.ingoing.limit, ppm) : Json(nullptr)},
               {"note", words_or_null(b.ingoing.note)}}},
             {"mass_balance_error", number(b.mass_balance_error)},
             {"time_error", number(b.time_error)},
             {"cells", b.cells},
             {"parameters", parameters(b.parameters)}});
    object.update(findings(b.findings));
    return text(object);
}

} // namespace tidemark::output
