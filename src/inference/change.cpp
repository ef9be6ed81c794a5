// SPDX-License-Identifier: MIT
#include "inference/change.hpp"

#include "base/error.hpp"
#include "cure/two_meshes.hpp"
#include "cure/weigh.hpp"
#include "inference/bucket_chance.hpp"
#include "inference/case_inputs.hpp"
#include "inference/forward.hpp"
#include "inference/sampling.hpp"
#include "inference/similar.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace tidemark::inference {
namespace {

constexpr int few = 512;       ///< draws to look with
constexpr double worth = 0.05; ///< least gain in the chance for a change to be told [1]
/// A day is late when it is later than six weeks (judgement) and over so many times the one it is
/// to mend [1], or the one on which a typical core is cured: something else is tried.
constexpr double late = 2, long_cure = 42 * 86400.0;
constexpr int retries = 3;      ///< steps further where the whole answer falls short
constexpr int most_thinner = 3; ///< thicknesses looked at
constexpr int most_looks = 100, most_near = 24; ///< of one ladder, off a surface and by runs

/// Draws looked at again with another brine, off surfaces that serve all brines a search may ask.
class Look {
public:
    Look(const cure::Outcome& p, const base::Records& records, const Inputs& inputs, const Ask& ask)
        : horizon_(p.question.base.horizon), confidence_(ask.confidence), colour_(p.has_nitrite),
          drawing_(inputs, p.question.base, p.solved->setup(), records) {
        const auto columns = static_cast<Eigen::Index>(inputs.list().size());
        const Eigen::MatrixXd values = inputs.values(
            uniforms(few, std::max<Eigen::Index>(1, columns), ask.seed).leftCols(columns));
        for (Eigen::Index i = 0; i < values.rows(); ++i)
            draws_.push_back(drawing_(values.row(i)));
        std::vector<Draw> all = draws_;
        for (const Draw& d : draws_)
            for (const BrineFactors& f : farthest)
                all.push_back(f(d));
        forward_.emplace(p, records, all);
        for (const Draw& d : draws_)
            now_.push_back((*forward_)(d));
    }

    BestDay operator()(const BrineFactors& f) const {
        std::vector<Fate> fates;
        for (std::size_t i = 0; i < draws_.size(); ++i) {
            const Draw d = f(draws_[i]);
            // Salt alone leaves the colour where it was.
            const double cured =
                colour_ && f.nitrite == 1 && f.water == 1 ? now_[i].pull : forward_->pull(d);
            const auto [salted, too_salty] = forward_->salt(d);
            fates.push_back({cured, salted, too_salty});
        }
        return best_day(fates, horizon_, confidence_);
    }

private:
    static constexpr BrineFactors farthest[] = {{least_salt, 1, 1},
                                                {most_salt, 1, 1},
                                                {1, most_nitrite, 1},
                                                {1, 1, least_brine},
                                                {1, 1, most_brine}};
    double horizon_, confidence_;
    bool colour_;
    Drawing drawing_;
    std::vector<Draw> draws_;
    std::optional<Forward> forward_;
    std::vector<Days> now_;
};

/// What a search asks, quickly and in full.
struct Asking {
    const cure::Outcome& outcome;
    const base::Records& records;
    const InputsOf& inputs_of;
    const Ask& ask;
    std::function<BestDay(const Variant&)> look;
    int looks = 0;             ///< most of one ladder
    bool other_pieces = false; ///< whether `look` knows other pieces than the question's

    struct Answered {
        BestDay best;
        bool too_long = false; ///< for cold alone: its line will warn of that
    };

    /// The whole answer of a variant, as its line will give it; none on any day if waiting for it
    /// is a danger of its own. With the numbers in their middle it must be right on some day where
    /// `middling` asks so.
    Answered answer(Variant& v, bool long_before, bool middling) const {
        const cure::Outcome o = cure::run(v.question, records);
        if (const auto& p = o.first(); middling && p.last_good && p.cured > p.last_good)
            return {};
        BestDay b;
        if (!v.question.others.empty())
            b = least_sure(bucket_chances(o, records, inputs_of, ask));
        else if (scales(v.question))
            b = kept_cold(
                best_day(fates(o, records, inputs_of(v.question.base, o.solved->setup()), ask),
                         v.question.base.horizon, ask.confidence),
                o, 0, records, ask.draws);
        else {
            b = schedule_chance(o, records, schedule_inputs(o, records, inputs_of), ask).best;
            const std::size_t k = last_dosing(v.question);
            if (b.best) // its line keeps the stage to that day
                if (const auto kept = kept_to(v, k, b.best->time - o.first().stages[k].from))
                    v = *kept;
        }
        if (!b.best)
            return {b};
        const judge::Findings waiting =
            of_waiting(o, last_dosing(v.question), b.best->time, records);
        if (!long_before && !waiting.dangers().empty())
            b.best.reset();
        return {b, !long_before && waiting.has("long-cure")};
    }
};

class Search {
public:
    Search(const Asking& asking, const BestDay& now)
        : asking_(asking), confidence_(asking.ask.confidence), now_(now.best ? now.best->right : 0),
          late_(std::max(long_cure,
                         late * (now.likely() ? now.best->time
                                              : asking.outcome.slowest().cured.value_or(never)))),
          before_(cure::judged(asking.outcome.question, asking.records)) {
        const cure::Question& q = asking.outcome.question;
        if (now.best)
            before_.add(of_waiting(asking.outcome, last_dosing(q), now.best->time, asking.records));
    }

    Changes run() {
        const cure::Outcome& o = asking_.outcome;
        const cure::Question& q = o.question;
        const cure::Pickle& pickle = o.solved->setup().pickle;
        one(unless("brine on all faces", turned(q)));
        const auto salt = [&](int k) { return k > 0 ? "stronger brine" : "weaker brine"; };
        const bool dry = q.stages[last_dosing(q)].dry(); // a rub or bag stays one
        if (!done_)
            ladder([&](int k) {
                const auto v = with_salt(q, pickle, k);
                return dry ? v : unless(salt(k), v);
            });
        const auto more = unless("more nitrite", with_most_nitrite(q, pickle, o.ingoing));
        if (!done_ && more)
            ladder([&](int k) { return k == 1 ? more : std::nullopt; });
        if (!done_ && more)
            ladder([&](int k) { return unless(salt(k), both(q, pickle, o.ingoing, k)); });
        if (!done_)
            ladder([&](int k) {
                return unless(k > 0 ? "more brine" : "less brine", with_brine(q, pickle, k));
            });
        // Of a change that is sure but slow only what is quicker is of use.
        const bool slow = best_ && best_->enough;
        const std::function<std::optional<Variant>()> others[] = {
            [&] {
                return slow ? std::nullopt
                            : unless("needles and brine", pumped(q, pickle, asking_.records));
            },
            [&] { return unless("needles", pumped_alone(q, asking_.records)); },
            [&] {
                return slow ? std::nullopt : unless("soak", soaked(q, o.meat, asking_.records));
            },
            [&] { return slow ? std::nullopt : unless("rest", rested(q, asking_.records)); }};
        for (const auto& make : others)
            if (!done_)
                one(make());
        const auto cut = [&](int k) {
            return k > 0 && k <= most_thinner ? unless("thinner", thinner(q, k)) : std::nullopt;
        };
        if (asking_.other_pieces && !done_)
            ladder(cut);
        for (int k = 1; !asking_.other_pieces && !done_ && k <= most_thinner; ++k)
            one(cut(k));
        if (best_ && kept_.others.empty() && !scales(kept_))
            as_its_line();
        if (best_ && !best_->enough && best_->chance < now_ + worth)
            best_.reset();
        return {best_, tried_, true, q.without};
    }

private:
    /// None where the cook does without it.
    std::optional<Variant> unless(const std::string& name, std::optional<Variant> v) const {
        const auto& without = asking_.outcome.question.without;
        return std::ranges::count(without, name) > 0 ? std::nullopt : std::move(v);
    }

    bool allowed(const Variant& v) const {
        try {
            const judge::Findings found = cure::judged(v.question, asking_.records);
            return std::ranges::all_of(found.all(), [&](const judge::Finding& f) {
                return f.severity == judge::Severity::caution || before_.has(f.code);
            });
        } catch (const base::InputError&) {
            return false;
        } catch (const base::RunError&) {
            return false;
        }
    }

    Asking::Answered answer(Variant& v) const {
        const bool likely = now_ >= 0.5 || (best_ && best_->chance >= 0.5);
        return asking_.answer(v, before_.has("long-cure"), likely);
    }

    bool enough(const BestDay& b) const { return b.best && b.best->right >= confidence_; }

    /// Keeps a variant if it is the best so far; with it the search may be done. One that takes
    /// late days is kept only until another is much sooner, and one that is too long for cold
    /// alone until another is not.
    void keep(const Variant& v, const Asking::Answered& a) {
        const BestDay& b = a.best;
        if (!b.best)
            return;
        const bool sure = enough(b), safer = best_ && best_->too_long && !a.too_long;
        if (!best_ || (sure ? !best_->enough || late * b.best->time <= best_->day || safer
                            : !best_->enough && b.best->right > best_->chance)) {
            kept_ = v.question;
            best_ = Change{v.what,   v.flags, b.best->time, b.best->right,
                           b.window, sure,    v.command,    a.too_long};
        }
        done_ = best_->enough && best_->day <= late_ && !best_->too_long;
    }

    /// The chance of a schedule kept to its best day, as its line will give it.
    void as_its_line() {
        const cure::Outcome o = cure::run(kept_, asking_.records);
        const Inputs inputs = schedule_inputs(o, asking_.records, asking_.inputs_of);
        best_->chance = chance_as_planned(o, asking_.records, inputs, asking_.ask).right;
        best_->enough = best_->chance >= confidence_;
        for (Tried& t : tried_)
            if (t.what == best_->what)
                t.chance = best_->chance;
    }

    void note(const Variant& v, const BestDay& b) {
        if (b.best)
            tried_.push_back({v.what, b.best->time, b.best->right});
    }

    void one(std::optional<Variant> v) {
        if (!v || !allowed(*v))
            return;
        try {
            const Asking::Answered a = answer(*v);
            note(*v, a.best);
            keep(*v, a);
        } catch (const base::InputError&) { // a shape that cannot be so
        } catch (const base::RunError&) {
        }
    }

    /// Steps 1, 2, ... up and -1, -2, ... down: the fewest steps that reach it, else the best.
    template <class Make> void ladder(const Make& make) {
        struct Step {
            int k = 0;
            Variant variant;
            BestDay day;
            double chance = 0;
        };
        std::optional<Step> best;
        int ways = 2, looks = 0; // as long as a way leads upwards
        double last[] = {now_, now_};
        bool open[] = {true, true};
        for (int k = 1; ways > 0; ++k)
            for (const int way : {0, 1}) {
                if (!open[way])
                    continue;
                const auto v = make(way == 0 ? k : -k);
                const auto found = v && looks < asking_.looks && allowed(*v)
                                       ? std::optional(asking_.look(*v))
                                       : std::nullopt;
                ++looks;
                const double chance = found && found->best ? found->best->right : 0;
                if (!found || chance < last[way] - 2 * worth) {
                    open[way] = false;
                    --ways;
                    continue;
                }
                last[way] = std::max(last[way], chance);
                if (!best || chance > best->chance)
                    best = {way == 0 ? k : -k, *v, *found, chance};
                if (chance >= confidence_)
                    ways = 0;
            }
        if (!best || best->chance < now_ + worth / 2)
            return;
        if (best->chance < std::min(confidence_, best_ ? best_->chance : 0)) {
            note(best->variant, best->day); // another is surer already
            return;
        }
        const int towards = best->k > 0 ? 1 : -1;
        for (int more = 0; more < retries; ++more) {
            std::optional<Variant> v = make(best->k + more * towards);
            if (!v || !allowed(*v))
                return;
            const Asking::Answered a = answer(*v);
            note(*v, a.best);
            keep(*v, a);
            if (enough(a.best) || best->chance < confidence_)
                return;
        }
    }

    const Asking& asking_;
    double confidence_, now_, late_;
    judge::Findings before_;
    std::optional<Change> best_;
    cure::Question kept_; ///< its own
    std::vector<Tried> tried_;
    bool done_ = false;
};

} // namespace

const BestDay& least_sure(const std::vector<BestDay>& chances) {
    return *std::ranges::min_element(chances, {},
                                     [](const BestDay& b) { return b.best ? b.best->right : 0; });
}

Changes smallest_change(const cure::Outcome& o, const std::vector<BestDay>& now,
                        const base::Records& records, const InputsOf& inputs_of, const Ask& ask,
                        const ScheduleFit* fit) {
    if (now.empty() || least_sure(now).sure() || // or dangers, which are to be mended first
        !o.findings.dangers().empty())
        return {};
    // Of several pieces the least sure, alone in its share of the brine.
    const auto piece = static_cast<std::size_t>(&least_sure(now) - now.data());
    std::optional<cure::Outcome> run;
    std::optional<Inputs> inputs;
    std::optional<ScheduleFit> own;
    if (!o.question.others.empty()) {
        run.emplace(cure::run(alone(o, piece, o.question), records));
        if (!o.question.stages.back().open()) {
            run->pieces.front().stages = o.pieces[piece].stages; // the level is the bucket's
            inputs.emplace(schedule_inputs(*run, records, inputs_of));
            fit = &own.emplace(*run, records, *inputs, ask);
        }
    } else if (const auto day = as_day(o); day && !scales(o.question)) {
        run.emplace(cure::run(*day, records));
    }
    Asking asking{o, records, inputs_of, ask, {}};
    if (fit) {
        asking.looks = most_near;
        asking.other_pieces = true;
        asking.look = [&](const Variant& v) { return fit->near(alone(o, piece, v.question)); };
        return Search(asking, least_sure(now)).run();
    }
    const cure::Outcome& one = run ? *run : o; // whose surfaces serve all brines
    const Look look(one, records, inputs_of(one.question.base, one.solved->setup()), ask);
    asking.looks = most_looks;
    asking.look = [&](const Variant& v) { return look(v.brine); };
    return Search(asking, least_sure(now)).run();
}

} // namespace tidemark::inference
