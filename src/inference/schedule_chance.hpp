// SPDX-License-Identifier: MIT
/// The chance that a piece comes out of a schedule right when the schedule is kept by the calendar,
/// and how long its last dosing stage is best made. Fitted to a few dozen runs on coarse cells; its
/// own error comes with it. Not a safety rule.
#pragma once

#include "cure/outcome.hpp"
#include "inference/chance.hpp"
#include "inference/schedule_range.hpp"

#include <memory>
#include <optional>

namespace tidemark::inference {

struct ScheduleChance {
    std::size_t stage = 0; ///< the one whose end is asked for: the last cover, rub or bag
    /// Days are the end of that stage; the stages behind it keep their lengths.
    BestDay best;
    DayChance as_planned;     ///< with every stage as long as in the schedule's own run
    judge::Findings findings; ///< of waiting to the best day, where that is later than planned
    int runs = 0;
    double error = 0; ///< of the core's nitrite over its target, relative, on runs not fitted [1]
    /// The schedule needs no other day: it is as sure as asked, or as good as the best day is.
    bool good_as_planned() const {
        return best.best &&
               (as_planned.right >= best.confidence ||
                (best.likely() && as_planned.right >= best.best->right - BestDay::indifferent));
    }
};

/// The last cover, rub or bag; the first stage where there is none.
std::size_t last_dosing(const cure::Question& question);

/// A schedule that is one brine alone is the question of `day`, which knows how it scales; none for
/// any other.
std::optional<cure::Question> as_day(const cure::Outcome& result);

/// The surface behind a schedule's chances, found once. Of a schedule that was run: what it waited
/// for becomes the days it took. `records` as they were given to run(), `inputs` as of
/// case_inputs() or with what slices have taught; all arguments outlive it. Deterministic. A
/// cooler's log stays as it was read: what it may be off by is not drawn.
class ScheduleFit {
public:
    ScheduleFit(const cure::Outcome& result, const base::Records& records, const Inputs& inputs,
                const Ask& ask);
    ~ScheduleFit();

    const ScheduleChance& chance() const { return chance_; }
    static DayChance as_planned(const cure::Outcome& result, const base::Records& records,
                                const Inputs& inputs, const Ask& ask);
    /// A schedule that differs in doses or faces: its own level by one run on coarse cells, with
    /// the slopes found for the other, so near only.
    BestDay near(const cure::Question& changed) const;

private:
    struct Surface;
    std::unique_ptr<Surface> surface_;
    ScheduleChance chance_;
};

/// Of the schedule as it is alone, for less.
DayChance chance_as_planned(const cure::Outcome& result, const base::Records& records,
                            const Inputs& inputs, const Ask& ask);

/// The same, whatever the schedule.
ScheduleChance schedule_chance(const cure::Outcome& result, const base::Records& records,
                               const Inputs& inputs, const Ask& ask);

} // namespace tidemark::inference
