// SPDX-License-Identifier: MIT
#include "cli/shop.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/case_from_options.hpp"
#include "cli/flags.hpp"
#include "cure/two_meshes.hpp"

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
const std::vector<std::string> of_the_answer{"case",   "at",       "horizon", "json", "csv",
                                             "figure", "notebook", "draws",   "help", "help-all"};

void check_teaches(const cure::Case& question) {
    const cure::Brine& brine = question.brine;
    if (brine.nitrite.value_or(0) == 0 && brine.premix.value_or(0) == 0) {
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
    text << "tidemark day";
    const auto flags = flags_of("day", true);
    for (const auto& flag : flags.options()) {
        const std::string& name = flag->long_name();
        if (std::ranges::count(of_the_answer, name) > 0) {
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

Options options_of(const std::string& command, const std::string& where) {
    try {
        std::vector<std::string> words = boost::program_options::split_unix(command);
        words.erase(words.begin(), words.begin() + std::min<std::ptrdiff_t>(2, std::ssize(words)));
        return read_options(words, "day");
    } catch (const std::exception& error) {
        throw base::InputError(where, error.what(), "cannot be calculated again",
                               "take the line out");
    }
}

namespace {

/// The case of a batch, calculated again.
struct Bench {
    base::Records records = base::Records::built_in();
    cure::Case question;

    Bench(const Batch& batch, const std::string& name) {
        const std::string where = name + ':' + std::to_string(batch.line);
        question = case_from_options(options_of(batch.command, where), records).question;
        check_teaches(question);
    }
    /// What the trials of it cost to prepare.
    int cost() const {
        base::Records own = records;
        return cure::make_setup(question, own).section ? of_section : of_line;
    }
    static constexpr int of_section = 350, of_line = 36; ///< [about ms]
};
constexpr int of_day = 10, of_reading = 3, most_cost = 1800; ///< [about ms]

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

Teacher::Teacher(const cure::Outcome& like, const base::Records& records)
    : muscle_(like.question.base.piece.muscle), records_(records) {
    check_teaches(like.question.base);
    split_ = split(case_inputs(like.question.base, like.solved->setup(), records), records);
}

Shop Teacher::shop(const std::vector<Batch>& batches, const std::string& name) {
    Shop shop;
    std::ranges::copy_if(batches, std::back_inserter(shop.batches),
                         [&](const Batch& b) { return b.muscle == muscle_; });
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
    const int draws = looks.readings <= 16 ? 4096 : looks.readings <= 32 ? 2048 : 1024;
    for (const auto& [command, times] : looks.at) {
        auto& trials = trials_[{command, draws}];
        if (std::ranges::all_of(times, [&](const auto& t) { return trials.contains(t.first); })) {
            continue;
        }
        const Bench& bench = looks.benches.at(command);
        const cure::Outcome p = cure::run(cure::in_brine(bench.question), bench.records);
        const Inputs inputs = case_inputs(p.question.base, p.solved->setup(), bench.records);
        const Drawing drawing(inputs, p.question.base, p.solved->setup(), bench.records);
        const SliceModel model(p);
        for (const auto& [time, slices] : times) {
            if (auto& trial = trials[time]; !trial) {
                trial = std::make_shared<const Trial>(model, inputs, drawing, split_, time, draws);
            }
        }
    }
    std::vector<Seen> seen;
    for (const Batch& batch : shop.batches) {
        seen.push_back({trials_.at({batch.command, draws}).at(batch.slice.time), batch.slice});
        seen.back().slice.error = records_.find("uncertainty.slice")->si();
        seen.back().slice.slips = records_.find("uncertainty.slip")->si();
    }
    shop.learnt = learn(split_, seen);
    return shop;
}

inference::Inputs Taught::inputs(const cure::Case& asked, const cure::Setup& setup,
                                 const base::Records& records) const {
    return learnt_inputs(case_inputs(asked, setup, records), rest);
}

Taught by_shop(const inference::Notebook& book, const Given& file, const cure::Outcome& like,
               const base::Records& records, std::vector<std::string>& warnings) {
    const Shop shop = Teacher(like, records).shop(book.batches, file.text);
    warnings.insert(warnings.end(), book.warnings.begin(), book.warnings.end());
    warnings.insert(warnings.end(), shop.warnings.begin(), shop.warnings.end());
    warnings.push_back(shop.batches.empty()
                           ? "there is no slice of this muscle in " + file.text + " yet"
                           : "days, map and ranges are those of your shop, by " +
                                 std::to_string(shop.batches.size()) +
                                 " slices of this muscle in " + file.text);
    warnings.insert(warnings.end(), shop.learnt.conflicts.begin(), shop.learnt.conflicts.end());
    Taught taught{like.question.base, shop.learnt};
    if (shop.batches.empty())
        return taught;
    const auto put = [&](const std::string& key, double factor, const char* unit) {
        base::Records own = records;
        taught.question.overrides.push_back(
            {key, base::significant(own.si(key) * factor, 12) + ' ' + unit, file.where});
    };
    put("muscle." + like.question.base.piece.muscle + ".diffusivity",
        std::exp(shop.learnt.log_mean[inference::speed_of_diffusion]), "m2/s");
    put(like.question.base.brine.ascorbate ? "kinetics.half-life-ascorbate" : "kinetics.half-life",
        std::exp(-shop.learnt.log_mean[inference::speed_of_loss]), "s");
    taught.rest.log_mean.setZero();
    return taught;
}

} // namespace tidemark::cli
