// SPDX-License-Identifier: MIT
#include "cli/shop.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/case_from_options.hpp"
#include "cli/flags.hpp"
#include "cure/solved.hpp"

#include <boost/algorithm/string/predicate.hpp>
#include <boost/program_options/parsers.hpp>

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <map>
#include <sstream>

namespace tidemark::cli {
namespace {

using namespace inference;

/// Flags that do not describe a case.
const std::vector<std::string> of_the_answer{"case",   "at",       "horizon", "json", "csv",
                                             "figure", "notebook", "draws",   "help", "help-all"};

/// All that slices of one case need.
struct Bench {
    cure::Prediction prediction;
    Inputs inputs;
    Drawing drawing;
    SliceModel model;

    Bench(cure::Prediction p, const base::Records& records)
        : prediction(std::move(p)),
          inputs(case_inputs(prediction.question, prediction.solved->setup, records)),
          drawing(inputs, prediction.question, prediction.solved->setup, records),
          model(prediction) {}
};

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
        throw base::InputError(where, error.what(), "cannot be asked again", "take the line out");
    }
}

Shop shop_of(const std::vector<Batch>& batches, const std::string& name,
             const cure::Prediction& like, const base::Records& records) {
    check_teaches(like.question);
    const Inputs inputs = case_inputs(like.question, like.solved->setup, records);
    const Split parts = split(inputs, records);
    std::map<std::string, Bench> cases;
    std::map<std::pair<std::string, double>, std::shared_ptr<const Trial>> trials;
    Shop shop;
    std::vector<Seen> seen;
    for (const Batch& batch : batches) {
        if (batch.muscle != like.question.piece.muscle) {
            continue;
        }
        auto known = cases.find(batch.command);
        if (known == cases.end()) {
            base::Records own = base::Records::built_in();
            const std::string where = name + ':' + std::to_string(batch.line);
            const Asked asked = case_from_options(options_of(batch.command, where), own);
            check_teaches(asked.question);
            known = cases.try_emplace(batch.command, cure::predict(asked.question, own), own).first;
        }
        const Bench& a = known->second;
        auto& trial = trials[{batch.command, batch.slice.time}];
        if (!trial) {
            trial = std::make_shared<const Trial>(a.model, a.inputs, a.drawing, parts,
                                                  batch.slice.time);
        }
        seen.push_back({trial, batch.slice});
        seen.back().slice.error = records.find("uncertainty.slice")->si();
        seen.back().slice.slips = records.find("uncertainty.slip")->si();
        shop.batches.push_back(batch);
    }
    shop.learnt = learn(parts, seen);
    return shop;
}

inference::Inputs Taught::inputs(const cure::Case& asked, const cure::Setup& setup,
                                 const base::Records& records) const {
    return learnt_inputs(case_inputs(asked, setup, records), rest);
}

Taught by_shop(const inference::Notebook& book, const Given& file, const cure::Prediction& like,
               const base::Records& records, std::vector<std::string>& warnings) {
    const Shop shop = shop_of(book.batches, file.text, like, records);
    warnings.insert(warnings.end(), book.warnings.begin(), book.warnings.end());
    warnings.push_back(shop.batches.empty()
                           ? "there is no slice of this muscle in " + file.text + " yet"
                           : "days, map and ranges are those of your shop, by " +
                                 std::to_string(shop.batches.size()) +
                                 " slices of this muscle in " + file.text);
    warnings.insert(warnings.end(), shop.learnt.conflicts.begin(), shop.learnt.conflicts.end());
    Taught taught{like.question, shop.learnt};
    if (shop.batches.empty())
        return taught;
    const auto put = [&](const std::string& key, double factor, const char* unit) {
        base::Records own = records;
        taught.question.overrides.push_back(
            {key, base::significant(own.si(key) * factor, 12) + ' ' + unit, file.where});
    };
    put("muscle." + like.question.piece.muscle + ".diffusivity",
        std::exp(shop.learnt.log_mean[inference::speed_of_diffusion]), "m2/s");
    put(like.question.brine.ascorbate ? "kinetics.half-life-ascorbate" : "kinetics.half-life",
        std::exp(-shop.learnt.log_mean[inference::speed_of_loss]), "s");
    taught.rest.log_mean.setZero();
    return taught;
}

} // namespace tidemark::cli
