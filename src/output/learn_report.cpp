// SPDX-License-Identifier: MIT
#include "output/learn_report.hpp"

#include "base/text.hpp"
#include "output/json_parts.hpp"
#include "output/screen.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

using namespace inference;
using json_parts::Json;

std::string in_words(std::string name) {
    std::ranges::replace(name, '-', ' ');
    return name;
}

std::string mm(double metres) {
    return fixed(1000 * metres, 0) + " mm";
}

std::string seen(const Slice& s) {
    if (s.through) {
        return "pink through";
    }
    std::string text;
    const auto add = [&](const char* name, const std::optional<double>& value) {
        if (value) {
            text += (text.empty() ? "" : ", ") + (name + mm(*value));
        }
    };
    add("ring ", s.every);
    add("top ", s.top);
    add("bottom ", s.bottom);
    add("left ", s.left);
    add("right ", s.right);
    add("grey ", s.core_height);
    add("grey width ", s.core_width);
    return text;
}

std::string days(const std::optional<double>& seconds) {
    return seconds ? fixed(*seconds / 86400, 1) : "-";
}

void multiplier(Screen& screen, const Learnt& l, Multiplier which, const char* heading,
                const std::string& what) {
    if (!l.told[which]) {
        screen.paragraph(heading, l.reason[which] + ".");
    } else if (l.bound && which == speed_of_diffusion) {
        screen.paragraph(heading, "every slice was pink through, which gives a bound only: " +
                                      what + " at least " + fixed(l.quantile(which, 0.05), 2) +
                                      " times the record's (95 in 100).");
    } else {
        screen.paragraph(heading, what + " " + fixed(l.quantile(which, 0.5), 2) +
                                      " times the record's; 90 in 100 between " +
                                      fixed(l.quantile(which, 0.05), 2) + " and " +
                                      fixed(l.quantile(which, 0.95), 2) + ".");
    }
}

Json multiplier_json(const Learnt& l, Multiplier which) {
    return {{"told", l.told[which]},
            {"reason", l.reason[which].empty() ? Json(nullptr) : Json(l.reason[which])},
            {"low", l.quantile(which, 0.05)},
            {"half", l.quantile(which, 0.5)},
            {"high", l.quantile(which, 0.95)},
            {"log_mean", l.log_mean[which]},
            {"log_sd", std::sqrt(l.log_covariance(which, which))},
            {"log_sd_before", l.prior.shop[which]},
            {"log_sd_of_pieces", l.prior.piece[which]}};
}

} // namespace

std::string learn_report(const LearnAnswer& a, const Shown& shown) {
    Screen screen(shown);
    screen.dangers(a.findings);
    const std::string count = std::to_string(a.batches.size());
    screen.line(in_words(a.muscle) + ": " + count +
                (a.batches.size() == 1 ? " batch" : " batches") + " in your notebook" +
                (a.added ? ", the last just added" : ""));
    screen.line();
    multiplier(screen, a.learnt, speed_of_diffusion, "SPEED",
               "salt and nitrite move in your meat at");
    multiplier(screen, a.learnt, speed_of_loss, "LOSS", "nitrite is used up in your meat at");
    for (const std::string& text : a.learnt.conflicts) {
        screen.paragraph("DOUBT", text + ".");
    }
    screen.line();
    screen.paragraph("NEXT", a.next);
    screen.paragraph("", "By the records alone: " + day_range(a.by_records) + ".");
    screen.paragraph("", "As your shop is: " + day_range(a.by_shop) + ".");
    const std::vector<Column> columns{
        {"", "SLICES", 9, ""}, {"", "date", 12, "date", true}, {"", "batch", 14, "batch", true},
        {"", "day", 6, "day"}, {"", "told", 7, "told"},        {"", "  seen", 32, "seen", true}};
    std::vector<std::vector<std::string>> rows;
    for (std::size_t i = 0; i < a.batches.size(); ++i) {
        const Batch& b = a.batches[i];
        const std::vector<std::string> name = wrapped(b.name, 13);
        std::vector<std::string> what{seen(b.slice)};
        if (screen.columns() >= 80)
            what = wrapped(what[0], 30);
        rows.push_back({"  " + std::to_string(i + 1), b.date.substr(0, 10),
                        name.empty() ? "" : base::shortened(name[0], 13), days(b.slice.time),
                        days(b.half), what.empty() ? "" : "  " + what[0]});
        for (std::size_t k = 1; k < what.size(); ++k)
            rows.push_back({"", "", "", "", "", "  " + what[k]});
    }
    if (!rows.empty()) {
        screen.line();
        screen.table(columns, rows);
    }
    if (!a.batches.empty()) {
        screen.line("         told: the day half of such cuts were cured by, as predicted then");
    }
    screen.line();
    screen.remarks(a.findings);
    return screen.text();
}

std::string learn_json(const LearnAnswer& a) {
    Json batches = Json::array();
    for (std::size_t i = 0; i < a.batches.size(); ++i) {
        const Batch& b = a.batches[i];
        batches.push_back({{"line", b.line},
                           {"date", b.date},
                           {"batch", b.name},
                           {"day", b.slice.time / 86400},
                           {"ring_mm", json_parts::number(b.slice.every, 1e-3)},
                           {"ring_top_mm", json_parts::number(b.slice.top, 1e-3)},
                           {"ring_bottom_mm", json_parts::number(b.slice.bottom, 1e-3)},
                           {"ring_left_mm", json_parts::number(b.slice.left, 1e-3)},
                           {"ring_right_mm", json_parts::number(b.slice.right, 1e-3)},
                           {"grey_mm", json_parts::number(b.slice.core_height, 1e-3)},
                           {"grey_width_mm", json_parts::number(b.slice.core_width, 1e-3)},
                           {"pink_through", b.slice.through},
                           {"predicted_half_day", json_parts::number(b.half, 86400)},
                           {"predicted_late_day", json_parts::number(b.late, 86400)},
                           {"surprise", a.learnt.surprises[i]},
                           {"command", b.command}});
    }
    Json object = json_parts::head("learn");
    object.update(Json{{"notebook", a.notebook},
                       {"muscle", a.muscle},
                       {"added", a.added},
                       {"speed_of_diffusion", multiplier_json(a.learnt, speed_of_diffusion)},
                       {"loss_of_nitrite", multiplier_json(a.learnt, speed_of_loss)},
                       {"bound_only", a.learnt.bound},
                       {"conflicts", a.learnt.conflicts},
                       {"next", a.next},
                       {"cured_day_by_records", json_parts::days(a.by_records)},
                       {"cured_day_by_shop", json_parts::days(a.by_shop)},
                       {"batches", batches}});
    object.update(json_parts::findings(a.findings));
    return json_parts::text(object);
}

} // namespace tidemark::output
