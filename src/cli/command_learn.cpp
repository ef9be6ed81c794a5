// SPDX-License-Identifier: MIT
/// Read everything, predict, write the batch down, learn, print.
#include "cli/commands.hpp"

#include "base/calendar.hpp"
#include "base/error.hpp"
#include "base/file.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/one_piece.hpp"
#include "cli/options.hpp"
#include "cli/progress.hpp"
#include "cli/screen_from_options.hpp"
#include "cli/shop.hpp"
#include "cli/slice_from_options.hpp"
#include "cli/values.hpp"
#include "cure/two_meshes.hpp"
#include "cure/weigh.hpp"
#include "inference/ranges.hpp"
#include "inference/schedule_range.hpp"
#include "inference/similar.hpp"
#include "inference/why.hpp"
#include "output/json.hpp"
#include "output/slice_words.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <functional>
#include <iostream>
#include <optional>

namespace tidemark::cli {
namespace {

using namespace inference;
using base::InputError;

std::string text_of(const Options& options, const char* flag) {
    const Given* given = options.find(flag);
    return given ? given->text : "";
}

std::optional<double> finite(double value) {
    return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

/// A new batch, but for what was predicted.
Batch new_batch(const Options& options, const cure::Outcome& p, const Slice& slice) {
    Batch batch;
    if (const Given* date = options.find("date")) {
        base::parse_moment(date->text, date->where);
        batch.date = date->text;
    } else if (const Given* start = options.find("start")) {
        const auto cut = base::minute_after(moment_of(*start), slice.time);
        batch.date = base::format_moment(cut, "%Y-%m-%d %H:%M");
    }
    batch.name = text_of(options, "batch");
    batch.muscle = p.question.base.piece.muscle;
    batch.shape = p.question.base.piece.shape;
    batch.thickness = 2 * p.solved->setup().half_thickness;
    batch.brine_salt = p.first().stages.front().bath_start.salt;
    batch.brine_nitrite = p.first().stages.front().bath_start.nitrite;
    batch.cooler = p.question.base.temperature;
    batch.command = command_of(options);
    return batch;
}

/// The flag that tells what a mistake left out, as it would be written.
std::string told_right(const CauseText& cause, const cure::Question& q) {
    if (const auto shut = cause.name.find("-shut"); shut != std::string::npos) {
        std::string faces;
        for (const std::string& face : q.base.piece.dimensions.sealed)
            faces += face + ',';
        return "--seal " + faces + cause.name.substr(0, shut);
    }
    const bool covered = std::ranges::any_of(
        q.stages, [](const cure::Stage& s) { return s.kind == cure::Stage::Kind::cover; });
    return "the right " + (cause.name != "little-premix" || covered ? cause.flag
                           : q.pump                                 ? "--pump-nitrite"
                                                                    : "--stage");
}

/// What to tell of a slice that a mistake would have made, too.
std::string points_to(const Pointer& mistake, const cure::Question& question) {
    return "this slice may have taught a wrong speed: " + mistake.text.brief + " is " +
           (mistake.odds > 100 ? "far" : base::significant(mistake.odds, 1) + " times") +
           " likelier than slow meat; ask tidemark why, and if so learn it again with " +
           told_right(mistake.text, question) + " and --replace";
}

/// What is no longer in the notebook, so that a cook sees whether it was the right one.
std::string taken_out(const Batch& b, const std::string& file, bool replaced) {
    std::string which;
    for (const std::string& part : {b.date, b.name})
        which += part.empty() ? "" : part + ", ";
    return file + ':' + std::to_string(b.line) + (replaced ? ": replaced: " : ": taken out: ") +
           which + output::seen_on(b.slice);
}

} // namespace

void command_learn(const std::vector<std::string>& words) {
    const Options given = read_options(words, "learn");
    if (helped(
            given, "learn",
            "tidemark learn --notebook FILE --case FILE --day TIME --ring LENGTH [flags]\n"
            "tidemark learn --notebook FILE [flags]\n"
            "Writes down what a slice showed, and tells what your slices teach about your meat.\n"
            "tidemark day --notebook FILE then uses it.\n\n"))
        return;
    base::Records records = base::Records::built_in();
    const Options options = of_one_piece(given, records);
    const output::Shown shown = shown_by(options);
    const Given* file = options.find("notebook");
    if (!file) {
        throw InputError("--notebook", "", "is missing", "name a file to keep your slices in");
    }
    const bool adds = slice_given(options) || options.find("day");
    const bool undoes = options.on("undo"), replaces = options.on("replace");
    if (undoes && (adds || replaces))
        throw InputError("--undo", "", "takes the last line out, and adds none",
                         "give it without a slice; --replace corrects a slice");
    if (replaces && !adds)
        throw InputError("--replace", "", "puts a slice in place of an earlier one",
                         "give its case, --day and what the slice showed");
    const bool json = options.on("json");
    Slice slice;
    if (adds || undoes) {
        if (file->text == base::standard_stream)
            throw InputError(file->where, file->text,
                             adds ? "is added to, which no stream can be"
                                  : "is written anew, which no stream can be",
                             "name a file");
    }
    if (adds) {
        slice = slice_from_options(options);
        base::check_writable(file->text, file->where);
    }
    std::error_code ignored;
    Notebook book;
    if (!adds || replaces || std::filesystem::exists(file->text, ignored)) {
        book = read_notebook(file->text, file->where);
    }
    output::LearnAnswer answer;
    answer.notebook = file->text;
    answer.added = adds && !replaces;

    // The case is the one told; without one, that of the last batch.
    Options told = options;
    if (!adds && !options.find("thickness") && !options.find("outline")) {
        if (book.batches.empty()) {
            throw InputError(file->where, file->text, "holds no batch yet",
                             "add one: give its case, --day and what the slice showed");
        }
        const Batch& last = book.batches.back();
        told = options_of(last.command, file->text + ':' + std::to_string(last.line));
    }
    std::optional<Batch> wrong; // to be taken out, and not learnt from
    if (undoes) {
        if (book.batches.empty())
            throw InputError(file->where, file->text, "holds no batch, so none can be taken out",
                             "leave out --undo");
        wrong = book.batches.back();
        replace(file->text, file->where, *wrong);
        book = read_notebook(file->text, file->where);
    }
    const AskedQuestion asked = question_of(told, records);
    answer.findings = cure::judged(asked.question, records);
    warn_first(answer.findings, asked.warnings);
    warn_first(answer.findings, book.warnings);
    answer.findings.caution("colour tells nothing of safety: whether a piece is fit to eat, grey "
                            "or pink, is for your local code and its cooking to decide");
    std::optional<Pointer> mistake;
    with_dangers(answer.findings, "learn", json, [&] {
        Progress progress(shown.quiet);
        const cure::Outcome p = cure::run(asked.question, records, std::ref(progress));
        if (adds) {
            slice = slice_of(options, asked.question.base, records);
        }
        const Inputs inputs =
            schedule_inputs(p, records, [&](const cure::Case& c, const cure::Setup& setup) {
                return case_inputs(c, setup, records);
            });
        const auto cured = [&](const Inputs& of) {
            constexpr int draws = 4096;
            return scales(p.question) ? ranges(p, records, of).pull
                                      : schedule_range(p, records, of, draws).cured;
        };
        const auto pull = [&](const Shop& shop, Whose whose = Whose::next_piece) {
            return cured(learnt_inputs(inputs, shop.learnt, whose));
        };
        progress(0.6, "slices");
        std::optional<Batch> batch;
        if (adds) {
            batch = new_batch(options, p, slice);
            batch->slice = slice;
        }
        if (replaces) {
            wrong = earlier(book, *batch, "--replace");
            std::erase_if(book.batches, [&](const Batch& b) { return b.line == wrong->line; });
        }
        Teacher teacher(p, records);
        Shop shop = teacher.shop(book.batches, file->text);
        answer.by_shop = pull(shop);
        if (batch) {
            batch->half = finite(answer.by_shop.half);
            batch->late = finite(answer.by_shop.late);
            if (wrong)
                replace(file->text, file->where, *wrong, &*batch);
            else
                append(file->text, file->where, *batch);
            constexpr int draws = 256;
            const Inputs before = learnt_inputs(inputs, shop.learnt);
            if (!slice.through)
                mistake = Inquiry(p, records, slice.time, draws, {}, &before).mistake(slice);
            book = read_notebook(file->text, file->where);
            progress(0.8, "slices");
            shop = teacher.shop(book.batches, file->text);
            answer.by_shop = pull(shop);
        }
        progress(0.9, "range");
        answer.by_records = cured(inputs);
        answer.of_pieces = pull(shop, Whose::pieces_of_shop);
        answer.muscle = p.question.base.piece.muscle;
        answer.next = p.title;
        answer.batches = shop.batches;
        answer.learnt = shop.learnt;
        warn_first(answer.findings, shop.warnings);
    });
    if (mistake)
        answer.findings.tell("mistake", points_to(*mistake, asked.question));
    if (wrong)
        warn_first(answer.findings, {taken_out(*wrong, file->text, replaces)});
    std::cout << (json ? output::json(answer) : output::screen(output::view(answer), shown));
    std::cout.flush();
}

} // namespace tidemark::cli
