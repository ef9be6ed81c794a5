// SPDX-License-Identifier: MIT
#include "api/tidemark.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "cure/picture.hpp"
#include "cure/two_meshes.hpp"
#include "cure/weigh.hpp"
#include "inference/answer.hpp"
#include "inference/case_inputs.hpp"
#include "output/json.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::api {
namespace {

/// Throws InputError unless low <= value <= high.
void within(const char* name, double value, double low, double high, const char* unit) {
    if (!(value >= low && value <= high))
        throw base::InputError(name, std::to_string(value),
                               "must be from " + base::significant(low, 6) + " to " +
                                   base::significant(high, 6) + ' ' + unit,
                               "check the number and its unit");
}

void check(const Case& c, int draws, double confidence) {
    within("thickness", c.thickness, 0.002, 0.6, "m");
    within("width", c.width, 0, 2, "m");
    within("length", c.length, 0, 3, "m");
    within("weight", c.weight, 0, 200, "kg");
    within("pieces", c.pieces, 1, 10000, "");
    within("fat_cap", c.fat_cap, 0, 0.2, "m");
    within("bones", c.bones, 0, 40, "");
    within("brine_salt", c.brine_salt, 0, 0.26, "kg per kg");
    within("brine_nitrite", c.brine_nitrite, 0, 0.005, "kg per kg");
    within("brine_mass", c.brine_mass, 0, 10000, "kg");
    within("cooler", c.cooler, 273.15, 288.15, "K");
    within("draws", draws, 0, 1000000, "");
    within("confidence", confidence, 0.5, 0.99, "");
    if (const auto known = shapes(); std::ranges::count(known, c.shape) == 0)
        throw base::InputError("shape", c.shape, "is not a known name", "use one of shapes()");
    if (const auto known = muscles(); std::ranges::count(known, c.muscle) == 0)
        throw base::InputError("muscle", c.muscle, "is not a known name", "use one of muscles()");
    if (const std::vector<std::string> laws{"us", "canada", "codex", "eu", "eu-old", "uk"};
        std::ranges::count(laws, c.law) == 0)
        throw base::InputError("law", c.law, "is not a known name", "see Case::law");
}

cure::Question question_of(const Case& c) {
    cure::Case q;
    q.piece.muscle = c.muscle;
    q.piece.shape = c.shape;
    q.piece.dimensions.thickness = c.thickness;
    q.piece.dimensions.width = c.width;
    q.piece.dimensions.fat_cap = c.fat_cap;
    if (c.bones > 0)
        q.piece.dimensions.bones = c.bones;
    q.piece.length = c.length;
    q.piece.weight = c.weight;
    q.piece.pieces = c.pieces;
    q.brine.salt = c.brine_salt;
    q.brine.nitrite = c.brine_nitrite;
    if (c.brine_mass > 0)
        q.brine.mass = c.brine_mass;
    q.temperature = c.cooler;
    q.law = c.law;
    return cure::in_brine(q);
}

Answer answer_of(const inference::Answer& a) {
    const cure::PieceOutcome& p = a.outcome.first();
    Answer answer;
    if (a.ranges && a.ranges->best.best) {
        const inference::BestDay& b = a.ranges->best;
        answer.best = b.best->time;
        answer.chance = b.best->right;
        if (b.window) {
            answer.from = b.window->first;
            answer.to = b.window->second;
        }
    }
    answer.cured = p.cured;
    answer.last_good = p.last_good;
    answer.error = p.cured_error.value_or(0);
    answer.core_depth = p.core.depth;
    answer.target = p.target;
    answer.dangers = a.outcome.findings.dangers();
    answer.warnings = a.outcome.findings.warnings();
    answer.cautions = a.outcome.findings.cautions();
    return answer;
}

} // namespace

Refused::Refused(const std::string& why, std::vector<std::string> found)
    : std::runtime_error(why), dangers(std::move(found)) {}

struct Cure::Solved {
    inference::Answer found;
    Answer answer;

    /// At that time, as two meshes say.
    cure::Reading at(double time) const {
        if (!std::isfinite(time) || time < 0)
            throw Failed("time " + std::to_string(time) + ": must be 0 s or more");
        const cure::Meshes& m = *found.outcome.solved;
        const double t = std::min({time, m.coarse->solved(), m.fine->solved()});
        return cure::extrapolated(m.coarse->at(t, 0), m.fine->at(t, 0));
    }
};

Cure::Cure(const Case& piece, int draws, double confidence) {
    judge::Findings before;
    try {
        check(piece, draws, confidence);
        const base::Records records = base::Records::built_in();
        const cure::Question question = question_of(piece);
        before = cure::judged(question, records);
        inference::Wanted wanted;
        wanted.ask = {draws, confidence};
        auto solved = std::make_shared<Solved>();
        solved->found = inference::answer(
            question, records,
            [&](const cure::Case& c, const cure::Setup& setup) {
                return inference::case_inputs(c, setup, records);
            },
            wanted);
        solved->answer = answer_of(solved->found);
        solved_ = std::move(solved);
    } catch (const base::InputError& error) {
        throw Refused(error.what(), before.dangers());
    } catch (const base::RunError& error) {
        throw Failed(error.what());
    }
}

const Answer& Cure::answer() const {
    return solved_->answer;
}

Contents Cure::core(double time) const {
    const cure::Reading r = solved_->at(time);
    return {r.core_salt, r.core_arrived};
}

Contents Cure::mean(double time) const {
    const cure::Reading r = solved_->at(time);
    return {r.mean_salt, r.mean_arrived};
}

std::string Cure::json() const {
    return output::json("day", solved_->found, "", cure::by_day(solved_->found.outcome));
}

std::vector<std::string> muscles() {
    return base::Records::built_in().group("muscle");
}

std::vector<std::string> shapes() {
    std::vector<std::string> names = cure::shape_names();
    std::erase(names, "outline");
    return names;
}

std::string version() {
    return TIDEMARK_VERSION;
}

} // namespace tidemark::api
