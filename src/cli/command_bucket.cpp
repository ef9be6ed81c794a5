// SPDX-License-Identifier: MIT
/// The first case gives piece, brine and cooler; every file of --with one more piece.
#include "cli/command_bucket.hpp"

#include "base/error.hpp"
#include "cli/answer.hpp"
#include "cli/case_from_options.hpp"
#include "cli/flags.hpp"
#include "cli/options.hpp"
#include "cli/progress.hpp"
#include "cli/values.hpp"
#include "cure/bucket.hpp"
#include "cure/weigh.hpp"
#include "inference/bucket_chance.hpp"
#include "output/bucket_report.hpp"

#include <functional>
#include <iostream>

namespace tidemark::cli {
namespace {

void help(bool all) {
    std::cout
        << "tidemark bucket --case FILE --with FILE [--with FILE ...] [flags]\n"
           "Pieces that differ, in one brine: when each is cured, and the slowest of them.\n"
           "The first case gives a piece, the brine and the cooler; each --with file one more "
           "piece.\n"
           "Faces that lie on another piece are closed with seal; to turn pieces use plan.\n\n"
        << flags_of("bucket", all);
}

/// The piece of a file that holds nothing else; a brine is put beside it only because a case has
/// one.
cure::OtherPiece other_piece(const Given& file, base::Records& records,
                             std::vector<std::string>& warnings) {
    Options options = read_piece_file(file);
    options.add("brine-salt", {"5 %", "--brine-salt"});
    try {
        const Asked asked = case_from_options(options, records);
        warnings.insert(warnings.end(), asked.warnings.begin(), asked.warnings.end());
        return {asked.question.piece, file.text};
    } catch (const base::InputError& error) {
        const std::string message = error.what();
        if (message.starts_with(file.text))
            throw;
        throw base::InputError(file.text, "", message, "");
    }
}

} // namespace

void command_bucket(const std::vector<std::string>& words) {
    const Options options = read_options(words, "bucket");
    if (options.on("help") || options.on("help-all")) {
        help(options.on("help-all"));
        return;
    }
    const bool json = options.on("json");
    if (options.all("with").empty()) {
        throw base::InputError(
            "--with", "", "is missing",
            "give a file with another piece as --with FILE, or use tidemark day");
    }
    base::Records records = base::Records::built_in();
    Asked asked = case_from_options(options, records);
    std::vector<cure::OtherPiece> others;
    for (const Given& file : options.all("with")) {
        others.push_back(other_piece(file, records, asked.warnings));
    }
    const Values values(options);
    const inference::Ask ask{values.count("draws", 2048), values.get("confidence", 0.9)};
    output::BucketChances chances;
    cure::Bucket bucket = with_dangers(cure::judged(asked.question, others, records), json, [&] {
        Progress progress;
        cure::Bucket solved =
            cure::predict_bucket(asked.question, others, records, std::ref(progress));
        if (ask.draws > 0) {
            progress(0.9, "chances");
            chances = inference::bucket_chances(solved, asked.question, others, records, ask);
            solved.findings.supersede(
                inference::of_waiting(solved, asked.question, chances, records));
            if (chances.empty())
                solved.findings.note("chances are worked out for up to " +
                                     std::to_string(inference::most_bucket_kinds) +
                                     " pieces that differ");
        }
        return solved;
    });
    warn_first(bucket.findings, asked.warnings);
    std::cout << (json ? output::bucket_json(bucket, chances)
                       : output::bucket_report(bucket, chances, options.on("more")));
}

} // namespace tidemark::cli
