// SPDX-License-Identifier: MIT
/// Read everything, check where to write, work the answer out, print, draw.
#include "cli/commands.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/text.hpp"
#include "cli/again.hpp"
#include "cli/answer.hpp"
#include "cli/clock.hpp"
#include "cli/one_piece.hpp"
#include "cli/options.hpp"
#include "cli/progress.hpp"
#include "cli/question_from_options.hpp"
#include "cli/screen_from_options.hpp"
#include "cli/shop.hpp"
#include "cli/slice_from_options.hpp"
#include "cli/stages.hpp"
#include "cli/told.hpp"
#include "cli/values.hpp"
#include "cure/picture.hpp"
#include "cure/two_meshes.hpp"
#include "cure/weigh.hpp"
#include "inference/answer.hpp"
#include "inference/front_band.hpp"
#include "output/csv.hpp"
#include "output/figure.hpp"
#include "output/gnuplot.hpp"
#include "output/html_page.hpp"
#include "output/json.hpp"
#include "output/plan_calendar.hpp"
#include "output/sheet.hpp"
#include "output/teaching_figure.hpp"
#include "output/words.hpp"

#include <cmath>
#include <functional>
#include <iostream>
#include <map>
#include <optional>

namespace tidemark::cli {
namespace {

constexpr int screen_columns = 168; // four for each character of the map

std::string help_of(const std::string& command) {
    static const std::map<std::string, std::string> texts{
        {"day", "tidemark day --thickness LENGTH --brine-salt SHARE [flags]\n"
                "tidemark day --case FILE [flags]\n"
                "Tells from which day the core of a piece in brine is cured, and until which day "
                "it is good.\n\n"},
        {"plan", "tidemark plan --thickness LENGTH --brine-salt SHARE --stage \"brine, 7 d\" "
                 "--stage ...\n"
                 "tidemark plan --case FILE [flags]\n"
                 "Follows a piece through a schedule of stages, with its dates.\n\n"},
        {"bucket",
         "tidemark bucket --case FILE --with FILE [--with FILE ...] [flags]\n"
         "Pieces that differ, in one brine: when each is cured, and the slowest of them.\n"
         "The first case gives a piece, the brine and the cooler; each --with file one more "
         "piece.\n"
         "Faces that lie on another piece are closed with seal, in that piece's file; --seal none\n"
         "on the line opens those of all. To turn pieces give stages.\n\n"},
        {"sheet",
         "tidemark sheet --case FILE --sheet FILE.html [flags]\n"
         "One page for the cooler's door: the answer of day, of plan where there are stages "
         "or needles,\nof bucket where there are other pieces; with a calendar to tick off, "
         "the recipe, the map, and\nroom to write. Opens without a network, prints on one "
         "page. choose takes --sheet, too.\n\n"}};
    return texts.at(command) + (command == "day" ? "" : stage_help);
}

/// Where answers go besides the screen, checked before anything is solved.
struct Files {
    const Given *calendar, *figure, *sheet, *spread;

    Files(const Options& options, const cure::Question& question)
        : calendar(options.find("calendar")), figure(options.find("figure")),
          sheet(options.find("sheet")), spread(options.find("spread")) {
        if (calendar) {
            if (!question.start && !question.ready)
                throw base::InputError(calendar->where, calendar->text,
                                       "needs the day the schedule begins",
                                       "add --start \"2026-12-05 18:00\"");
            check_ending(*calendar, ".ics", "loin.ics");
            base::check_writable(calendar->text, calendar->where);
        }
        if (figure)
            output::check_figure(figure->text, figure->where);
        if (sheet)
            check_sheet(*sheet);
        if (spread)
            output::check_figure(spread->text, spread->where);
    }
};

/// Of every piece, with its name.
std::vector<output::Course> courses(const cure::Outcome& outcome) {
    std::vector<output::Course> list;
    for (std::size_t k = 0; k < outcome.pieces.size(); ++k)
        list.push_back({outcome.pieces[k].name, cure::course(outcome, k)});
    return list;
}

/// When the plane across the needles is shown: while they can be told [s].
double with_needles(const cure::Outcome& o) {
    const double cured = o.first().cured.value_or(0);
    return cured > 0 ? cured : o.at;
}

/// What a document of the answer shows of the section.
output::Sections sections_of(const inference::Answer& a) {
    const cure::Outcome& o = a.outcome;
    if (o.pieces.size() > 1)
        return {};
    return {cure::picture(o, o.at, screen_columns, {}),
            o.question.stages.back().open() ? std::nullopt
                                            : cure::across_at(o, with_needles(o), screen_columns)};
}

/// What is drawn of an answer: each piece, or the days that matter.
std::vector<output::SectionPanel> panels_of(const inference::Answer& a) {
    const cure::Outcome& o = a.outcome;
    std::vector<output::SectionPanel> panels;
    if (o.pieces.size() > 1) {
        for (std::size_t k = 0; k < o.pieces.size(); ++k) {
            const bool drawn = k < a.chances.size() && a.chances[k].best;
            panels.push_back({cure::picture(o, drawn ? a.chances[k].best->time : o.at, 0, {}, k)});
            panels.back().piece = k;
        }
        return panels;
    }
    const double grey = cure::grey_day(o);
    if (!o.question.pump) { // needles leave no front that comes in from the faces
        panels.push_back({cure::picture(o, grey, 0, cure::front_days(o))});
        panels.back().marks.fronts = panels.back().picture.fronts;
        if (const auto band = inference::fronts_between(a, grey))
            panels.back().marks.between =
                cure::picture(o, grey, 0, {band->first, band->second}).fronts;
    }
    if (panels.empty() || grey < o.at)
        panels.push_back({cure::picture(o, o.at, 0, {})});
    if (const auto across = cure::across_at(o, with_needles(o), 0))
        panels.push_back({*across, output::SectionPanel::Shows::across});
    return panels;
}

void write_files(const Files& files, const inference::Answer& a, const output::Lines& lines,
                 const base::Records& records) {
    const cure::Outcome& o = a.outcome;
    if (files.calendar) {
        // Without the stages: an entry stays the same when a schedule is made anew.
        const cure::Piece& piece = o.question.base.piece;
        const std::string name = "Cure of " + piece.muscle + ", " + piece.shape;
        base::write_file(
            files.calendar->text,
            output::icalendar(output::plan_entries(a), cure::dates_from(o.question), name, now()));
    }
    if (files.sheet) {
        output::Document document = output::view(a, {}, lines);
        output::add_sheet(document, a, panels_of(a), lines, records);
        base::write_file(files.sheet->text, output::page(document));
    }
    if (files.spread)
        output::draw_page(files.spread->text, output::spread_figure(a));
    if (files.figure)
        output::draw_page(files.figure->text,
                          o.pieces.size() > 1 || o.question.stages.back().open()
                              ? output::section_figure(a, panels_of(a))
                              : output::plan_figure(a, cure::course(o), panels_of(a)));
}

/// What to type once a slice was seen; the cook fills in what it showed.
output::Lines lines_to_type(const Options& options, const std::string& change) {
    Options asked = options;
    for (const char* of_slice : {"day", "ring", "grey"})
        asked.drop(of_slice);
    bool several = false; // a slice is of one piece, which a case file that names them all can tell
    for (const Given& other : options.all("with")) {
        if (other.on_line())
            return {change};
        several = !options.find("piece");
    }
    const std::string slice = std::string(several ? " --piece \"...\"" : "") + " --day \"... d\"";
    return {change, asked_again(asked, "why", {}) + slice + " --grey \"... mm\"",
            asked_again(asked, "learn", {}) +
                (options.find("notebook") ? "" : " --notebook shop.csv") + slice +
                " --ring \"... mm\""};
}

} // namespace

void command_cure(const std::string& name, const std::vector<std::string>& words) {
    const Options options = read_options(words, name);
    if (helped(options, name, help_of(name)))
        return;
    std::string command = name;
    if (name == "sheet") {
        if (!options.find("sheet"))
            throw base::InputError("--sheet", "", "is missing", "name a file: --sheet loin.html");
        command = !options.all("with").empty()                            ? "bucket"
                  : options.find("pump") || !options.all("stage").empty() ? "plan"
                                                                          : "day";
    }
    const bool json = options.on("json"), csv = options.on("csv"), course = options.on("course");
    const output::Shown shown = shown_by(options);
    const bool no_screen = in_place_of_screen(options) != nullptr;
    base::Records records = base::Records::built_in();
    // A plan that choose has printed is of the first piece, and says that others are left out.
    const Options one = command == "bucket" || name == "sheet"
                            ? options
                            : of_one_piece(options, records, command == "day");
    const AskedQuestion asked = question_from_options(one, command, records);
    const Values values(options);
    const Files files(options, asked.question);
    OwnShop shop(options);
    inference::Wanted wanted;
    wanted.ask = {values.count("draws", asked.question.others.empty() ? 4096 : 2048),
                  values.get("confidence", 0.9)};
    if ((csv || course) && !files.figure && !files.sheet && !files.spread)
        wanted.ask.draws = 0;
    wanted.schedule_range = json || shown.more || files.figure || files.sheet;
    wanted.at_best = !json;
    inference::Answer answer =
        with_dangers(cure::judged(asked.question, records), command, json, [&] {
            cure::Question question = asked.question;
            shop.teach(question, records);
            Progress progress(shown.quiet);
            if (command == "day" && (slice_given(options) || options.find("day")))
                wanted.seen = slice_of(one, question.base, records);
            inference::Answer found = inference::answer(question, records, shop.inputs_of(records),
                                                        wanted, std::ref(progress));
            if (files.spread && !found.ranges)
                throw base::InputError(files.spread->where, files.spread->text,
                                       "no chances were worked out, so there is no spread",
                                       "leave out --draws 0");
            return found;
        });
    cure::Outcome& outcome = answer.outcome;
    warn_first(outcome.findings, shop.says);
    warn_first(outcome.findings, asked.warnings);
    outcome.question.asked = kitchen_now();
    if (const auto ready = outcome.question.ready)
        outcome.question.start =
            base::minute_after(*ready, -output::last_step_at(output::plan_entries(answer)));
    std::string change;
    if (const auto& best = answer.changes.best)
        change = asked_again(options, best->command.empty() ? command : best->command, best->flags);
    const output::Lines lines = lines_to_type(options, change);
    if (json)
        std::cout << output::json(command, answer, change, cure::by_day(outcome));
    else if (csv)
        std::cout << output::csv(cure::profiles(outcome, cure::profile_times(outcome)),
                                 outcome.findings);
    else if (course)
        std::cout << output::course_csv(courses(outcome), outcome.findings);
    else if (!no_screen)
        std::cout << output::screen(output::view(answer, sections_of(answer), lines), shown);
    std::cout.flush();
    write_files(files, answer, lines, records);
    last_told() = Told{command, std::move(answer), change};
}

std::optional<Told>& last_told() {
    static std::optional<Told> told;
    return told;
}

} // namespace tidemark::cli
