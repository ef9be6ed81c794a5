// SPDX-License-Identifier: MIT
/// The one way of every question: coefficients, two meshes, numbers read off, and what is to be
/// told of them.
#include "cure/advice.hpp"
#include "cure/outcome.hpp"
#include "cure/read_off.hpp"
#include "cure/two_meshes.hpp"
#include "materials/targets.hpp"

#include <algorithm>

namespace tidemark::cure {

Question in_brine(const Case& question) {
    Question q;
    q.base = question;
    Stage s;
    s.where = "the brine";
    s.most = std::max(question.horizon, question.at.value_or(0));
    q.stages = {s};
    return q;
}

namespace {

Outcome told(const Question& question, std::shared_ptr<const Meshes> solved,
             base::Records& records) {
    Outcome o;
    o.question = question;
    if (question.pump) {
        o.question.pump->needles = solved->c.needles;
        o.question.pump->evenly = false;
        o.gain = question.pump->share;
    }
    read_off(o, *solved, materials::taste_band(records));
    o.solved = std::move(solved);
    advise(o, o.solved->c, records);
    o.parameters = records.used();
    return o;
}

} // namespace

Outcome run(const Question& question, base::Records records, const Progress& progress) {
    const auto report = [&](double done, const char* step) {
        if (progress)
            progress(done, step);
    };
    report(0, "cells");
    Coefficients c = coefficients(question, records);
    check_shared_out(question, c);
    const auto solved = std::make_shared<const Meshes>(question, std::move(c), progress);
    report(0.9, "reading off");
    Outcome o = told(question, solved, records);
    report(1, "done");
    return o;
}

Outcome told_at(const Outcome& o, double at, const base::Records& records) {
    Question question = o.question;
    question.base.at = at;
    if (at > o.solved->fine->solved())
        return run(question, records);
    base::Records used = records;
    Outcome other = told(question, o.solved, used);
    other.parameters = o.parameters;
    return other;
}

Rough run_rough(const Question& question, base::Records records) {
    const Coefficients c = coefficients(question, records);
    const auto track = coarse_track(question, c);
    return {track->times(0).cured, track->end(), track->at(track->end(), 0),
            c.kinds.front().levels.target};
}

RoughRun read_rough(const Question& question, base::Records records) {
    struct Run { // a track keeps references to what it follows
        Question question;
        Coefficients c;
        std::unique_ptr<Track> track;
    };
    auto run = std::make_shared<Run>(Run{question, coefficients(question, records), {}});
    run->track = coarse_track(run->question, run->c);
    return {[run](double time) { return run->track->at(time, 0); },
            run->c.kinds.front().levels.target};
}

} // namespace tidemark::cure
