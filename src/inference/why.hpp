// SPDX-License-Identifier: MIT
/// Why a core is grey, when it will be cured if it stays, and what to do next time.
///
/// Every cause is held against the slice in some thousand draws: a draw weighs by the share of
/// pieces of its cause times the likelihood of the slice, that grey was seen at all among it, and
/// of what was looked at besides. Probabilities of causes and of remedies, the days and the best
/// day are sums over these weights. Two causes together are weighed where none alone fits. The
/// shares are judgements, so the order among causes that leave the same ring is theirs, not the
/// slice's. Colour only: a grey core is neither safe nor unsafe for being grey.
#pragma once

#include "inference/causes.hpp"
#include "inference/next_look.hpp"
#include "inference/ranges.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::inference {

struct RemedyShare {
    Remedy remedy{};
    double probability = 0; ///< [1]
};

/// The piece that was looked at, or one like it, if it stays where it is [s from the start].
struct Still {
    Slice seen;
    DayRange cured, salted, last_good; ///< as in Ranges; none before the slice was looked at
    BestDay best;                      ///< not before then
    RemedyShare remedy;                ///< the most probable: next time, and now where it can be
    bool too_long = false; ///< to cure, it would stay longer than cold alone keeps it safe
};

struct Cause {
    CauseText text;
    double prior = 0, probability = 0; ///< [1]
    /// The same by what to do next time: where a piece would take more than `too_long` times the
    /// days it had, that is needles.
    std::array<double, remedy_count> by_remedy{};
    double log_evidence = 0; ///< of the slice's readings [log of 1/m each]
    Slice typical;           ///< what is seen, as a rule, if this is it: medians
    /// Medians of what text.look finds beside this slice, if this is the cause and if all was as
    /// told [SI unit of the look]; none once it has been taken.
    std::optional<double> typical_look, told_look;
    DayRange cured; ///< given the slice and this cause
};

struct Why {
    cure::Outcome told;
    Slice seen;
    double surprise = 0;   ///< chance of a core so big, or a ring so thin, if all was as told [1]
    bool by_core = false;  ///< surprise is of the core's size, not of the ring's depth
    double told_cured = 0; ///< share cured to the core by then if all was as told [1]
    /// How many slices of the first cause are as odd as this one, or odder [1].
    double fit = 1;
    bool paired = false; ///< no cause alone fits, so pairs are among them
    int draws = 0;
    std::vector<Cause> causes;         ///< most probable first
    std::vector<RemedyShare> remedies; ///< most probable first
    std::vector<NextLook> next;        ///< looks not taken yet, the most telling first
    Still still;
    judge::Findings findings;
    std::vector<base::Record> parameters; ///< of this judgement
};

/// A mistake in what was told that a slice points to in place of slow meat.
struct Pointer {
    CauseText text;
    double odds = 0; ///< of it against all as told, or meat that is slow of its own [1]
};

constexpr double too_long = 3; ///< times the days a piece had [1]
constexpr double fits_from =
    0.05; ///< a cause whose slices are this odd less often does not fit [1]

/// A case and a day, ready to explain any slice of it.
class Inquiry {
public:
    /// `records` are kept by reference. `inputs` as of Causes. Throws as
    /// SliceModel.
    Inquiry(const cure::Outcome& outcome, const base::Records& records, double time,
            int draws = 1024, const cure::Progress& progress = {}, const Inputs* inputs = nullptr);

    const std::vector<Suspect>& suspects() const { return causes_.single(); }
    /// Probability of each suspect alone [1]; quick.
    std::vector<double> probabilities(const Slice& seen) const;
    /// Probability of each remedy by the causes alone [1]; quick.
    std::array<double, remedy_count> remedies(const Slice& seen) const;
    /// The most probable mistake, where it is uncertainty.mistake times as probable as that the
    /// meat itself was slow; never of a slice pink through. Quick.
    std::optional<Pointer> mistake(const Slice& seen) const;
    /// All of it; `confidence` of Still::best's window [1].
    Why explain(const Slice& seen, double confidence = 0.9) const;
    /// What explain() says of the days alone.
    Still still(const Slice& seen, double confidence) const {
        return explain(seen, confidence).still;
    }

    /// Looks not taken yet, the one that tells most first.
    std::vector<NextLook> next(const Slice& seen) const;

    const LookErrors& errors() const { return errors_; }

private:
    using Weights = std::vector<Eigen::VectorXd>;
    /// Likelihood of the slice for each of the first `count` draws.
    Eigen::VectorXd likelihood(const Suspect& s, const Slice& seen, int count) const;
    /// Prior times likelihood of every draw of each suspect.
    Weights weights(const std::vector<Suspect>& all, const Slice& seen) const;
    double fit(const Suspect& s, const Slice& seen) const;
    /// The weights by what to do next time.
    std::array<double, remedy_count> by_remedy(const Suspect& s,
                                               const Eigen::VectorXd& weights) const;
    Still still(const std::vector<Suspect>& all, const Weights& weights, const Slice& seen,
                double confidence) const;
    Cause cause(const Suspect& s, const Eigen::VectorXd& weights, const Why& w) const;
    double median(const Suspect& s, Look look, const Eigen::VectorXd& weights) const;
    void surprise(Why& w) const;

    cure::Outcome outcome_;
    base::Records set_; ///< with the case's overrides
    LookErrors errors_;
    double time_, slips_;
    Causes causes_;
    int draws_;
    double told_cured_ = 0; ///< as Why::told_cured
};

} // namespace tidemark::inference
