// SPDX-License-Identifier: MIT
#include "cli/shop.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/flags.hpp"
#include "cure/two_meshes.hpp"
#include "inference/sampling.hpp"
#include "inference/schedule_range.hpp"
#include "inference/schedule_slice.hpp"
#include "inference/similar.hpp"

#include <boost/algorithm/string/predicate.hpp>
#include <boost/program_options/parsers.hpp>

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <iterator>
#include <map>
#include <sstream>

namespace tidemark::cli {
namespace {

using namespace inference;

/// Flags that do not describe a case.
bool no_case(const std::string& flag) {
    static const std::vector<std::string> others{
        "case", "at",       "horizon",  "json", "csv",    "figure", "notebook", "draws",
        "help", "help-all", "calendar", "more", "course", "units",  "quiet"};
    return std::ranges::count(others, flag) > 0 || seen_flags().find_nothrow(flag, false);
}

bool asks_schedule(const Options& options) {
    return !options.all("stage").empty() || options.find("pump");
}

void check_teaches(const cure::Question& asked) {
    const cure::Case& question = asked.base;
    const cure::Brine& brine = question.brine;
    if (scales(asked) && brine.nitrite.value_or(0) == 0 && brine.premix.value_or(0) == 0) {
        throw base::InputError("--brine-nitrite", "",
                               "a slice tells by its colour, and this brine has no nitrite",
                               "add --brine-nitrite or --premix, or leave out --notebook");
    }
    for (const auto& o : question.overrides) {
        if (o.key == "loss" || boost::ends_with(o.key, ".diffusivity") ||
            boost::starts_with(o.key, "kinetics.half-life")) {
            throw base::InputError(o.where, o.text, "sets what slices are to teach",
                                   "leave it out, or leave out --notebook");
        }
    }
}

} // namespace

std::string command_of(const Options& options) {
    std::ostringstream text;
    const std::string command = asks_schedule(options) ? "plan" : "day";
    text << "tidemark " << command;
    const auto flags = flags_of(command, true);
    for (const auto& flag : flags.options()) {
        const std::string& name = flag->long_name();
        if (no_case(name)) {
            continue;
        }
        for (const Given& given : options.all(name)) {
            if (flag->semantic()->max_tokens() == 0) {
                text << (options.on(name) ? " --" + name : "");
            } else {
                text << " --" << name << ' ' << std::quoted(given.text);
            }
        }
    }
    return text.str();
}

AskedQuestion question_of(const Options& options, base::Records& records) {
    AskedQuestion asked =
        question_from_options(options, asks_schedule(options) ? "plan" : "day", records);
    cure::Question& q = asked.question;
    // A piece stays in the stage it was cut in: of the brine of the flags alone that is the
    // question of day, whose answer needs no fit.
    if (q.stages.size() == 1 && !q.pump) {
        const cure::Stage& s = q.stages.front();
        if (s.kind == cure::Stage::Kind::cover && !s.brine && !s.temperature && !s.log &&
            s.sealed.empty()) {
            cure::Question day = cure::in_brine(q.base);
            day.start = q.start;
            q = day;
        }
    }
    return asked;
}

Options options_of(const std::string& command, const std::string& where) {
    try {
        std::vector<std::string> words = boost::program_options::split_unix(command);
        const bool plan = words.size() > 1 && words[1] == "plan";
        words.erase(words.begin(), words.begin() + std::min<std::ptrdiff_t>(2, std::ssize(words)));
        return read_options(words, plan ? "plan" : "day");
    } catch (const std::exception& error) {
        throw base::InputError(where, error.what(), "cannot be calculated again",
                               "take the line out");
    }
}

namespace {

/// The case of a batch, calculated again.
struct Bench {
    base::Records records = base::Records::built_in();
    cure::Question question;

    Bench(const Batch& batch, const std::string& name) {
        const std::string where = name + ':' + std::to_string(batch.line);
        question = question_of(options_of(batch.command, where), records).question;
        check_teaches(question);
    }
    /// What the trials of it cost to prepare.
    int cost() const {
        base::Records own = records;
        const int brine = cure::make_piece(question.base, own).section ? of_section : of_line;
        return scales(question) ? brine : 4 * brine;
    }
    static constexpr int of_section = 200, of_line = 12; ///< [about ms]
};
constexpr int of_day = 23, of_reading = 3, most_cost = 1140; ///< [about ms]

/// Looks whose trials are to be worked out: the times [s] of each command.
struct Looks {
    std::map<std::string, std::map<double, std::vector<Slice>>> at;
    std::map<std::string, Bench> benches;
    int cost = 0, readings = 0;

    /// False if a batch would cost too much; then it is not among them.
    bool take(const Batch& batch, const std::string& name) {
        auto bench = benches.find(batch.command);
        int more = 0;
        if (bench == benches.end()) {
            bench = benches.try_emplace(batch.command, batch, name).first;
            more += bench->second.cost();
        }
        const auto& times = at[batch.command];
        const auto time = times.find(batch.slice.time);
        more += time == times.end() ? of_day : 0;
        const bool known = time != times.end() && std::ranges::count(time->second, batch.slice) > 0;
        more += known ? 0 : of_reading;
        if (cost > 0 && cost + more > most_cost) {
            return false;
        }
        cost += more;
        if (!known) {
            ++readings;
            at[batch.command][batch.slice.time].push_back(batch.slice);
        }
        return true;
    }
};

} // namespace

namespace {

InputsOf by_records(const base::Records& records) {
    return [&records](const cure::Case& c, const cure::Setup& s) {
        return case_inputs(c, s, records);
    };
}

/// What a schedule's slices show at `time` [s].
SliceModel fitted(const cure::Outcome& p, const base::Records& records, const Inputs& inputs,
                  const Drawing& drawing, double time) {
    constexpr int served = 512, runs = 64;
    const auto columns = static_cast<Eigen::Index>(inputs.list().size());
    const Eigen::MatrixXd values = inputs.values(uniforms(served, columns, 3));
    std::vector<Draw> draws;
    for (Eigen::Index i = 0; i < served; ++i)
        draws.push_back(drawing(values.row(i)));
    const ScheduleSlices slices = schedule_slices(until_slice(p, time), records, draws, time, runs);
    return {slices.lines, slices.fields};
}

} // namespace

Teacher::Teacher(const cure::Outcome& like, const base::Records& records)
    : muscle_(like.question.base.piece.muscle), records_(records) {
    check_teaches(like.question);
    if (!like.has_nitrite)
        throw base::InputError("--notebook", "",
                               "a slice tells by its colour, and this cure has no nitrite",
                               "add premix to a stage, or leave out --notebook");
    prior_ = shop_prior(schedule_inputs(like, records, by_records(records)), records);
}

namespace {

/// The same slice of the same piece, as far as the lines tell: on one day, or where one has none.
bool alike(const Batch& a, const Batch& b) {
    const std::string day = a.date.substr(0, 10), other = b.date.substr(0, 10);
    return a.slice == b.slice && a.command == b.command && a.name == b.name &&
           (day == other || day.empty() || other.empty());
}

} // namespace

Shop Teacher::shop(const std::vector<Batch>& batches, const std::string& name) {
    Shop shop;
    std::ranges::copy_if(batches, std::back_inserter(shop.batches),
                         [&](const Batch& b) { return b.muscle == muscle_; });
    for (auto b = shop.batches.begin(); b != shop.batches.end(); ++b)
        if (const auto twin = std::find_if(shop.batches.begin(), b,
                                           [&](const Batch& other) { return alike(*b, other); });
            twin != b)
            shop.warnings.push_back(name + ':' + std::to_string(b->line) + ": is line " +
                                    std::to_string(twin->line) +
                                    " again, and both count: take one out if it is one slice");
    Looks looks;
    const auto last = std::find_if_not(shop.batches.rbegin(), shop.batches.rend(),
                                       [&](const Batch& b) { return looks.take(b, name); });
    if (last != shop.batches.rend()) {
        const auto left = shop.batches.rend() - last;
        shop.warnings.push_back("only the last " + std::to_string(shop.batches.size() - left) +
                                " of " + std::to_string(shop.batches.size()) +
                                " slices of this muscle are learnt from: there are too many "
                                "different ones to work out all");
        shop.batches.erase(shop.batches.begin(), last.base());
    }
    // Many slices together need fewer draws each.
    const int draws = looks.readings <= 8 ? 4096 : looks.readings <= 16 ? 2048 : 1024;
    for (const auto& [command, times] : looks.at) {
        auto& trials = trials_[{command, draws}];
        if (std::ranges::all_of(times, [&](const auto& t) { return trials.contains(t.first); })) {
            continue;
        }
        const Bench& bench = looks.benches.at(command);
        const cure::Outcome p = cure::run(bench.question, bench.records);
        const Inputs inputs = schedule_inputs(p, bench.records, by_records(bench.records));
        const Drawing drawing(inputs, p.question.base, p.solved->setup(), bench.records);
        std::optional<SliceModel> brine;
        if (scales(p.question))
            brine.emplace(p);
        for (const auto& [time, slices] : times) {
            if (auto& trial = trials[time]; !trial)
                trial = std::make_shared<const Trial>(
                    brine ? *brine : fitted(p, bench.records, inputs, drawing, time), inputs,
                    drawing, prior_, records_, time, draws);
        }
    }
    std::vector<Seen> seen;
    for (const Batch& batch : shop.batches) {
        seen.push_back({trials_.at({batch.command, draws}).at(batch.slice.time),
                        with_errors(batch.slice, records_)});
    }
    shop.learnt = learn(prior_, seen, draws / 2);
    return shop;
}

inference::Inputs Taught::inputs(const cure::Case& asked, const cure::Setup& setup,
                                 const base::Records& records) const {
    return learnt_inputs(case_inputs(asked, setup, records), rest);
}

Taught by_shop(const inference::Notebook& book, const Given& file, const cure::Outcome& like,
               const base::Records& records, std::vector<std::string>& warnings, bool alone) {
    const Shop shop = Teacher(like, records).shop(book.batches, file.text);
    const std::string of = alone ? "this muscle" : like.question.base.piece.muscle;
    warnings.insert(warnings.end(), shop.warnings.begin(), shop.warnings.end());
    warnings.push_back(shop.batches.empty()
                           ? "there is no slice of " + of + " in " + file.text + " yet"
                           : "days, map and ranges are those of your shop, by " +
                                 std::to_string(shop.batches.size()) +
                                 (shop.batches.size() == 1 ? " slice of " : " slices of ") + of +
                                 " in " + file.text);
    warnings.insert(warnings.end(), shop.learnt.conflicts.begin(), shop.learnt.conflicts.end());
    Taught taught{like.question.base, shop.learnt};
    if (shop.batches.empty())
        return taught;
    const auto put = [&](const std::string& key, double factor, const char* unit) {
        base::Records own = records;
        taught.question.overrides.push_back(
            {key, base::significant(own.si(key) * factor, 12) + ' ' + unit, file.where});
    };
    const Eigen::Vector4d& log = shop.learnt.log_mean;
    put("muscle." + like.question.base.piece.muscle + ".diffusivity", std::exp(log[salt_speed]),
        "m2/s");
    taught.rest.log_mean[salt_speed] = 0;
    if (!alone)
        return taught;
    put("solute.nitrite.diffusivity-ratio", std::exp(log[nitrite_ratio]), "");
    put(like.question.base.brine.ascorbate ? "kinetics.half-life-ascorbate" : "kinetics.half-life",
        std::exp(-log[loss_rate]), "s");
    // The eye has no number of its own but where the level stands between two: the draws have it.
    taught.rest.log_mean.head<3>().setZero();
    return taught;
}

OwnShop::OwnShop(const Options& options) : given_(options.find("notebook")) {
    if (given_)
        book_ = read_notebook(given_->text, given_->where);
}

void OwnShop::teach(cure::Question& question, const base::Records& records) {
    if (!book_)
        return;
    says.insert(says.end(), book_->warnings.begin(), book_->warnings.end());
    std::map<std::string, cure::Piece> pieces{{question.base.piece.muscle, question.base.piece}};
    for (const cure::OtherPiece& other : question.others)
        pieces.emplace(other.piece.muscle, other.piece);
    // A dry cure or needles alone have no brine of the flags to ask in its place.
    const bool own_brine = question.base.brine.nitrite || question.base.brine.premix;
    std::vector<cure::Case::Override> learnt = question.base.overrides;
    for (const auto& [muscle, piece] : pieces) {
        cure::Question like = question;
        like.base.piece = piece;
        like.others.clear();
        if (own_brine || !question.others.empty())
            like = cure::in_brine(like.base);
        const Taught& taught =
            taught_
                .emplace(muscle, by_shop(*book_, *given_, cure::run(like, records), records, says,
                                         pieces.size() == 1))
                .first->second;
        const auto& all = taught.question.overrides;
        learnt.insert(learnt.end(), all.begin() + static_cast<long>(like.base.overrides.size()),
                      all.end());
    }
    question.base.overrides = std::move(learnt);
}

InputsOf OwnShop::inputs_of(const base::Records& records) const {
    return [this, &records](const cure::Case& c, const cure::Setup& setup) {
        const auto taught = taught_.find(c.piece.muscle);
        return taught != taught_.end() ? taught->second.inputs(c, setup, records)
                                       : case_inputs(c, setup, records);
    };
}

} // namespace tidemark::cli
