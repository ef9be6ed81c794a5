// SPDX-License-Identifier: MIT
#include "inference/change.hpp"

#include "base/error.hpp"
#include "cure/two_meshes.hpp"
#include "cure/weigh.hpp"
#include "inference/case_inputs.hpp"
#include "inference/forward.hpp"
#include "inference/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace tidemark::inference {
namespace {

constexpr int few = 512;        ///< draws to look with
constexpr double worth = 0.05;  ///< least gain in the chance for a change to be told [1]
constexpr int retries = 3;      ///< steps further where the whole answer falls short
constexpr int most_thinner = 3; ///< thicknesses looked at

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

class Search {
public:
    Search(const cure::Outcome& p, const base::Records& records, const InputsOf& inputs_of,
           const Ask& ask, const BestDay& now)
        : p_(p), records_(records), inputs_of_(inputs_of), ask_(ask),
          now_(now.best ? now.best->right : 0), before_(cure::judged(p.question, records)) {
        if (now.best)
            before_.add(of_waiting(p, 0, now.best->time, records));
    }

    Changes run() {
        const Case& c = p_.question.base;
        one("no face shut: hung free, or turned over every day", turned(c));
        const Look look(p_, records_, inputs_of_(c, p_.solved->setup()), ask_);
        const cure::Pickle& pickle = p_.solved->setup().pickle;
        if (!done_)
            ladder(look, [&](int k) { return with_salt(c, pickle, k); });
        const auto more = with_most_nitrite(c, pickle, p_.ingoing);
        if (!done_ && more)
            ladder(look, [&](int k) { return k == 1 ? more : std::nullopt; });
        if (!done_ && more)
            ladder(look, [&](int k) { return both(c, pickle, p_.ingoing, k); });
        if (!done_)
            ladder(look, [&](int k) { return with_brine(c, pickle, k); });
        for (int k = 1; !done_ && k <= most_thinner; ++k)
            one("", thinner(c, k));
        if (best_ && !best_->enough && best_->chance < now_ + worth)
            best_.reset();
        return {best_, tried_};
    }

private:
    using Case = cure::Case;

    bool allowed(const Variant& v) const {
        try {
            const judge::Findings found = cure::judged(cure::in_brine(v.question), records_);
            const auto known = before_.dangers();
            return std::ranges::all_of(found.all(), [&](const judge::Finding& f) {
                return f.severity == judge::Severity::caution ||
                       (f.severity == judge::Severity::danger // no worse than it is
                            ? std::ranges::find(known, f.text) != known.end()
                            : before_.has(f.code));
            });
        } catch (const base::InputError&) {
            return false;
        } catch (const base::RunError&) {
            return false;
        }
    }

    /// The whole answer of a variant; none on any day if waiting for it is a danger of its own.
    BestDay answer(const Variant& v) const {
        const cure::Outcome p = cure::run(cure::in_brine(v.question), records_);
        BestDay b = best_day(fates(p, records_, inputs_of_(v.question, p.solved->setup()), ask_),
                             v.question.horizon, ask_.confidence);
        if (b.best && !of_waiting(p, 0, b.best->time, records_).dangers().empty() &&
            !before_.has("long-cure"))
            b.best.reset();
        return b;
    }

    /// Keeps a variant if it is the best so far; with it the search may be done.
    void keep(const Variant& v, const BestDay& b) {
        if (!b.best)
            return;
        const bool enough = b.best->right >= ask_.confidence;
        if (!best_ || enough || b.best->right > best_->chance)
            best_ = Change{v.what, v.flags, b.best->time, b.best->right, b.window, enough};
        done_ = enough;
    }

    void note(const Variant& v, const BestDay& b) {
        if (b.best)
            tried_.push_back({v.what, b.best->time, b.best->right});
    }

    void one(const std::string& what, std::optional<Variant> v) {
        if (!v || !allowed(*v))
            return;
        if (!what.empty())
            v->what = what;
        try {
            const BestDay b = answer(*v);
            note(*v, b);
            keep(*v, b);
        } catch (const base::InputError&) { // a shape that cannot be so
        } catch (const base::RunError&) {
        }
    }

    /// Steps 1, 2, ... up and -1, -2, ... down: the fewest steps that reach it, else the best.
    template <class Make> void ladder(const Look& look, const Make& make) {
        struct Step {
            int k = 0;
            Variant variant;
            double chance = 0;
        };
        std::optional<Step> best;
        int ways = 2; // as long as a way leads upwards
        double last[] = {now_, now_};
        bool open[] = {true, true};
        for (int k = 1; ways > 0; ++k)
            for (const int way : {0, 1}) {
                if (!open[way])
                    continue;
                const auto v = make(way == 0 ? k : -k);
                const auto found = v && allowed(*v) ? std::optional(look(v->brine)) : std::nullopt;
                if (!found || !found->best || found->best->right < last[way] - 2 * worth) {
                    open[way] = false;
                    --ways;
                    continue;
                }
                last[way] = std::max(last[way], found->best->right);
                const bool reaches = found->best->right >= ask_.confidence;
                if (!best || found->best->right > best->chance)
                    best = {way == 0 ? k : -k, *v, found->best->right};
                if (reaches)
                    ways = 0;
            }
        if (!best || best->chance < now_ + worth / 2)
            return;
        const int towards = best->k > 0 ? 1 : -1;
        for (int more = 0; more < retries; ++more) {
            const auto v = make(best->k + more * towards);
            if (!v || !allowed(*v))
                return;
            const BestDay b = answer(*v);
            note(*v, b);
            keep(*v, b);
            if (done_ || best->chance < ask_.confidence)
                return;
        }
    }

    const cure::Outcome& p_;
    const base::Records& records_;
    const InputsOf& inputs_of_;
    const Ask& ask_;
    double now_;
    judge::Findings before_;
    std::optional<Change> best_;
    std::vector<Tried> tried_;
    bool done_ = false;
};

} // namespace

Changes smallest_change(const cure::Outcome& p, const BestDay& now, const base::Records& records,
                        const InputsOf& inputs_of, const Ask& ask) {
    if (now.sure())
        return {};
    return Search(p, records, inputs_of, ask, now).run();
}

} // namespace tidemark::inference
