// SPDX-License-Identifier: MIT
#include "output/sheet.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "output/chart.hpp"
#include "output/plan_calendar.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

/// What the cook told of one brine, as names and values.
void brine(Rows& list, const cure::Brine& b, const std::string& of) {
    const auto named = [&](const std::string& what) { return capital(of + what); };
    const auto add = [&](const std::string& name, const std::optional<double>& mass) {
        if (mass && *mass > 0)
            list.push_back({named(name), base::show_mass(*mass)});
    };
    add("water", b.water);
    add("ice, weighed", b.ice);
    add("cold water", b.cold_water);
    add("salt", b.salt_added);
    add("sugar", b.sugar);
    add("premix, " + show_percent(b.premix_strength) + " nitrite", b.premix);
    add("erythorbate", b.erythorbate);
    if (b.water)
        return;
    if (b.volume)
        list.push_back({named("brine"), base::show_volume(*b.volume)});
    else
        add("brine", b.mass);
    if (b.salt)
        list.push_back({named("salt"), show_percent(*b.salt) + ": " + base::show_mass(*b.salt) +
                                           " in each kg of brine, premix and all"});
    if (b.nitrite && *b.nitrite > 0)
        list.push_back({named("sodium nitrite"),
                        show_ppm(*b.nitrite) + ": " +
                            base::show_mass(*b.nitrite / b.premix_strength) + " of premix (" +
                            show_percent(b.premix_strength) + ") in each kg of brine"});
}

void recipe(Document& doc, const cure::Outcome& o) {
    const cure::Question& q = o.question;
    Rows& list = doc.add(Block::Form::amounts, "", "", "recipe").rows;
    for (const cure::PieceOutcome& p : o.pieces)
        list.push_back(
            {o.pieces.size() > 1 ? capital(p.name) : "Meat",
             (p.piece.pieces > 1 ? std::to_string(p.piece.pieces) + " pieces, each " : "") +
                 (p.weight > 0 ? base::show_mass(p.weight)
                               : base::show_length(p.piece.dimensions.thickness) + " thick")});
    const bool covered = std::ranges::any_of(
        q.stages, [](const cure::Stage& s) { return s.kind == cure::Stage::Kind::cover; });
    if (covered || (q.pump && !q.pump->brine))
        brine(list, o.weighed, "");
    if (q.pump) {
        list.push_back({"Needles", show_percent(q.pump->share) + " of the raw weight"});
        if (q.pump->brine)
            brine(list, *o.needles, "needles' ");
    }
    for (std::size_t k = 0; k < q.stages.size(); ++k)
        if (q.stages[k].dry())
            list.push_back(
                {"Stage " + std::to_string(k + 1) + ", " + stage_name(q.stages[k]),
                 dry_load(q.stages[k], q.base.brine, o.pieces.size() > 1 ? 0 : o.first().weight,
                          o.first().piece.pieces)});
    list.push_back({"Cooler", base::show_temperature(q.base.temperature)});
}

void still_grey(Document& doc, const inference::Answer& a, const Lines& lines) {
    std::string text = "What is still whole stays in, and cold. Ask how long, with what you see. ";
    if (a.ranges)
        text += capital(core_range(a.ranges->pull)) + ". ";
    const cure::Outcome& o = a.outcome;
    if (o.pieces.size() == 1) {
        doc.paragraph("", text + "It tells the day from which they are cured, and why:", "grey");
        doc.command(lines.why);
        return;
    }
    const double brine = o.first().stages.front().bath_start.mass;
    std::string shares;
    if (o.meat > 0 && std::isfinite(brine) && brine > 0)
        for (const cure::PieceOutcome& p : o.pieces)
            shares += (shares.empty() ? ": " : ", ") + base::show_mass(brine * p.weight / o.meat) +
                      " for " + p.name;
    doc.paragraph("",
                  text +
                      (lines.why.empty()
                           ? "Ask of one piece at a time, by tidemark why with the file of that "
                             "piece and its share of the brine"
                           : "Ask of one piece at a time, by its number (--piece), which takes it "
                             "in its share of the brine") +
                      shares + ".",
                  "grey");
    doc.command(lines.why);
}

void room(Document& doc, const std::string& name, const std::vector<std::string>& fields) {
    Block& block = doc.add(Block::Form::room, "", "", name);
    for (const std::string& field : fields)
        block.rows.push_back({field});
}

/// Every number that was used, with the source's own line.
void numbers(Document& doc, const std::vector<base::Record>& used, const base::Records& records) {
    Rows rows;
    for (const base::Record& r : used) {
        const base::Source* source = records.source(r.source);
        rows.push_back(
            {r.key, base::significant(r.value, 6) + (r.unit == "1" ? "" : ' ' + r.unit), r.spread,
             (source ? source->citation : r.source) + " (" + mark_in_words(r.mark) + ')'});
    }
    doc.table(
        "numbers",
        {{"", "", 0, "number"}, {"", "", 0, "value"}, {"", "", 0, "spread"}, {"", "", 0, "source"}},
        rows);
}

} // namespace

void add_sheet(Document& doc, const inference::Answer& a, const std::vector<SectionPanel>& panels,
               const Lines& lines, const base::Records& records) {
    doc.on = On::page;
    room(doc, "batch", {"Batch", "Begun on", "By"});
    if (a.ranges || a.chance || !a.chances.empty())
        doc.paragraph("", "Right means cured to the core and of the salt that tastes right.",
                      "best");
    recipe(doc, a.outcome);
    still_grey(doc, a, lines);
    doc.add(Block::Form::drawing, "", sections_svg(a, panels), "sections");
    const auto chance = [&](const std::string& of, const inference::BestDay& b) {
        if (!b.best || b.by_day.size() < 2)
            return;
        doc.add(Block::Form::drawing, of, chance_svg(b), "chance");
    };
    if (a.ranges)
        chance("", a.ranges->best);
    if (a.chance)
        chance(" for the end of stage " + std::to_string(a.chance->stage + 1), a.chance->best);
    room(doc, "slice",
         {"Cut on", "Ring top", "Ring bottom", "Ring left", "Ring right", "Grey, high",
          "Grey, wide", "Taste", "By"});
    if (!lines.learn.empty())
        doc.paragraph("", "Then let the program learn from it:");
    doc.command(lines.learn);
    std::vector<base::Record> used = a.outcome.parameters;
    if (a.ranges)
        used.insert(used.end(), a.ranges->parameters.begin(), a.ranges->parameters.end());
    numbers(doc, used, records);
}

void add_sheet(Document& doc, const cure::Choice& c, const inference::Ways& ways,
               const base::Records& records) {
    doc.on = On::page;
    doc.add(Block::Form::drawing, "", svg(choice_figure(c, ways, false), false), "ways");
    room(doc, "decided", {"Way", "By", "On"});
    numbers(doc, c.methods.front().result.parameters, records);
}

} // namespace tidemark::output
