// SPDX-License-Identifier: MIT
#include "cli/question_from_options.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cli/brine_from_options.hpp"
#include "cli/stages.hpp"
#include "cli/values.hpp"
#include "cure/without.hpp"
#include "inference/bucket_chance.hpp"
#include "materials/limits.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>

namespace tidemark::cli {
namespace {

/// Whether the brine of the flags goes anywhere, or is given anyway.
bool uses_brine(const Options& options, const std::optional<cure::Pump>& pump) {
    const auto& stages = options.all("stage");
    return options.find("brine-salt") || options.find("brine-nitrite") || options.find("water") ||
           (pump && !pump->brine) || stages.empty() ||
           std::ranges::any_of(
               stages, [](const Given& stage) { return boost::icontains(stage.text, "brine"); });
}

/// The piece of a file that holds nothing else; a brine is put beside it only because a case has
/// one.
cure::OtherPiece other_piece(const Given& file, bool hung, base::Records& records,
                             std::vector<std::string>& warnings) {
    Options options = read_piece_file(file);
    options.add("brine-salt", {"5 %", "--brine-salt"});
    try {
        const Asked asked = case_from_options(options, records);
        warnings.insert(warnings.end(), asked.warnings.begin(), asked.warnings.end());
        cure::OtherPiece other{asked.question.piece, file.text};
        other.piece.out = Values(options).get("out");
        if (hung)
            other.piece.hang_free();
        return other;
    } catch (const base::InputError& error) {
        const std::string message = error.what();
        if (message.starts_with(file.text))
            throw;
        throw base::InputError(file.text, "", message, "");
    }
}

std::vector<cure::Stage> stages_from(const std::vector<Given>& stages, const cure::Case& base) {
    if (stages.size() > cure::most_stages) {
        const std::string most = std::to_string(cure::most_stages);
        throw base::InputError(stages[cure::most_stages].where,
                               std::to_string(stages.size()) + " stages",
                               "are too many to be solved; the first " + most + " would fit",
                               "give at most " + most + ", the rest as a schedule of its own");
    }
    const StageContext context{base.brine.premix_strength, base.brine.premix_nitrate,
                               base.piece.weight};
    std::vector<cure::Stage> list;
    int number = 0;
    for (const Given& given : stages) {
        ++number;
        const bool flag = given.on_line();
        list.push_back(stage_from_text(
            {given.text, given.where + (flag ? " " + std::to_string(number) : "")}, context));
    }
    return list;
}

} // namespace

std::optional<cure::Pump> pump_from_options(const Options& options, base::Records& records) {
    const Values values(options);
    const auto share = values.get("pump");
    if (!share) {
        for (const char* flag : {"needle-spacing", "row-spacing", "deposit", "unevenness",
                                 "needle-margin", "pump-salt", "pump-nitrite"})
            if (const Given* given = options.find(flag))
                throw base::InputError(given->where, given->text, "goes with needles only",
                                       "add --pump \"10 %\"");
        return std::nullopt;
    }
    cure::Pump pump;
    pump.share = *share;
    geometry::Needles& n = pump.needles = geometry::usual_needles();
    if (const auto spacing = values.get("needle-spacing"))
        n = geometry::usual_needles(*spacing);
    n.row_spacing = values.get("row-spacing", n.row_spacing);
    n.staggered = options.on("staggered");
    n.deposit = values.get("deposit", n.deposit);
    n.unevenness = values.get("unevenness", n.unevenness);
    n.margin = values.get("needle-margin", n.margin);
    pump.evenly = !options.find("needle-margin");
    geometry::check(pump.needles, "--needle-spacing");
    if (const auto salt = values.get("pump-salt")) {
        pump.brine.emplace();
        pump.brine->where = options.find("pump-salt")->where;
        pump.brine->salt = *salt;
        pump.brine->nitrite = values.get("pump-nitrite");
        const cure::Brine premix = premix_from_options(options, records);
        pump.brine->premix_strength = premix.premix_strength;
        pump.brine->premix_nitrate = premix.premix_nitrate;
        pump.brine->nitrate =
            pump.brine->nitrite.value_or(0) * premix.premix_nitrate / premix.premix_strength;
    } else if (const Given* given = options.find("pump-nitrite")) {
        throw base::InputError(given->where, given->text,
                               "is the nitrite of a brine whose salt is not given",
                               "add --pump-salt \"10 %\"");
    }
    return pump;
}

std::vector<std::string> without_from_options(const Options& options) {
    std::vector<std::string> list;
    const Given* given = options.find("without");
    if (!given)
        return list;
    std::vector<std::string> names;
    boost::split(names, given->text, boost::is_any_of(","));
    for (const std::string& name : names)
        for (const std::string& other :
             cure::those_with(Values::one_of(*given, base::trim(name), cure::all_means())))
            if (std::ranges::count(list, other) == 0)
                list.push_back(other);
    return list;
}

void tell_left_out(const Options& options, std::vector<std::string>& warnings) {
    std::string files;
    for (const Given& file : options.all("with"))
        files += (files.empty() ? "" : ", ") + file.text;
    if (!files.empty())
        warnings.push_back("other pieces are left out (" + files +
                           "), so all of the brine is for this one: tidemark bucket has them "
                           "together");
}

AskedQuestion question_from_options(const Options& options, const std::string& command,
                                    base::Records& records) {
    const bool plan = command == "plan", bucket = command == "bucket";
    const auto pump = plan ? pump_from_options(options, records) : std::nullopt;
    Options with_brine = options;
    if ((plan || bucket) && !uses_brine(options, pump)) // the case wants one all the same
        with_brine.add("brine-salt", {"5 %", "--brine-salt"});
    const Asked asked = case_from_options(with_brine, records);
    AskedQuestion out{cure::in_brine(asked.question), asked.warnings};
    cure::Question& question = out.question;
    if (plan || (bucket && !options.all("stage").empty())) {
        question.name = "the schedule";
        question.pump = pump;
        question.stages = stages_from(options.all("stage"), question.base);
    }
    const Given* seal = options.find("seal");
    const bool hung = seal && seal->text == "none" && seal->on_line();
    for (const Given& file : bucket ? options.all("with") : std::vector<Given>())
        question.others.push_back(other_piece(file, hung, records, out.warnings));
    const auto share = Values(options).get("share");
    if (share && bucket)
        throw base::InputError(options.find("share")->where, options.find("share")->text,
                               "is of one piece, and the pieces of a bucket have all of it",
                               "leave it out");
    if (share) {
        question = inference::in_share(std::move(question), *share);
        out.warnings.push_back("this piece has " + base::significant(100 * *share, 3) +
                               " % of the brine told, its share by weight, as if it lay alone");
    }
    if (!bucket)
        tell_left_out(options, out.warnings);
    if (bucket)
        question.base.piece.out = Values(options).get("out");
    if (const Given* given = options.find("out"); bucket && given && question.others.empty())
        throw base::InputError(given->where, given->text,
                               "is for one piece among several, and this is alone",
                               "end the stage then: tidemark plan --stage \"brine, 5 d\"");
    question.without = without_from_options(options);
    question.container = Values(options).get("container");
    if (const Given* start = options.find("start"))
        question.start = moment_of(*start);
    if (const Given* ready = options.find("ready")) {
        if (question.start)
            throw base::InputError(ready->where, ready->text, "does not go with --start",
                                   "keep one of the two: the other follows from it");
        question.ready = moment_of(*ready);
    }
    return out;
}

} // namespace tidemark::cli
