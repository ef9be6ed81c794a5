// SPDX-License-Identifier: MIT
/// Why a core is grey: how surprising the slice is if all was as told, which causes account for it
/// and which of them this slice cannot tell apart.
///
/// Evidence of a cause is the mean likelihood, over its draws, of the slice and of what was looked
/// at besides; its probability is prior times evidence. One cause at a time: two together are not
/// weighed. The priors are judgements, so the order among causes that cannot be told apart is
/// theirs, not the slice's. Colour only: a grey core is neither safe nor unsafe for being grey.
#pragma once

#include "inference/causes.hpp"
#include "inference/next_look.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace tidemark::inference {

/// Days more in the brine to be pink through; infinite: not within the horizon.
struct More {
    double half = 0, late = 0; ///< 50 and 95 % of such pieces [s]
    double never = 0;          ///< share that does not get there at all [1]
};

struct Cause {
    CauseText text;
    double prior = 0, probability = 0; ///< [1]
    double log_evidence = 0;           ///< of the slice's readings [log of 1/m each]
    Slice typical;                     ///< what is seen, as a rule, if this is it: medians
    /// Medians of what text.look finds beside this slice, if this is the cause and if all was as
    /// told [SI unit of the look]; none once it has been taken.
    std::optional<double> typical_look, told_look;
    More more;             ///< given the slice and this cause
    std::size_t group = 0; ///< the causes of a group cannot be told apart
};

/// Two causes, and how often one guesses right between them from a slice.
struct Twins {
    std::size_t a = 0, b = 0; ///< in `causes`
    double told = 0;          ///< by the readings and looks given: half is a toss [1]
    double told_in_full =
        0; ///< by the ring on each face, the size of the core, and these looks [1]
};

struct Group {
    std::vector<std::size_t> causes; ///< in order of probability
    double probability = 0;
};

struct Why {
    cure::Outcome told;
    Slice seen;
    double surprise = 0;  ///< chance of a core so big, or a ring so thin, if all was as told [1]
    bool by_core = false; ///< surprise is of the core's size, not of the ring's depth
    bool too_few_days = false; ///< if all was as told, half of such pieces are not through by then
    int draws = 0;
    std::vector<Cause> causes;  ///< most probable first
    std::vector<Group> groups;  ///< most probable first
    std::vector<Twins> twins;   ///< pairs among causes above 5 %, which cannot be told apart
    std::vector<NextLook> next; ///< looks not taken yet, the one that tells most first
    judge::Findings findings;   ///< of the brine and the cooler as told, and of the slice
    std::vector<base::Record> parameters; ///< used here and not in the prediction
};

/// A right guess between two causes less often than this counts as not told apart [1].
constexpr double tellable = 2. / 3;

/// A case and a day, ready to explain any slice of it.
class Inquiry {
public:
    /// Keeps the prediction. `inputs` as of suspects(). Throws as SliceModel.
    Inquiry(const cure::Outcome& prediction, const base::Records& records, double time,
            int draws = 1024, const cure::Progress& progress = {}, const Inputs* inputs = nullptr);

    const std::vector<Suspect>& suspects() const { return suspects_; }
    /// Probability of each suspect [1]; quick.
    std::vector<double> probabilities(const Slice& seen) const;
    /// Which group each suspect is in, for slices with these readings: by falling prior, each joins
    /// the first group whose leader it cannot be told from, or leads one of its own.
    std::vector<std::size_t> groups(const Slice& readings) const;
    Why explain(const Slice& seen) const;

    /// Looks not taken yet, the one that tells most first.
    std::vector<NextLook> next(const Slice& seen) const;

    /// A slice as a cook reads it: with the readings and looks that `like` has, errors of reading
    /// out of as many standard uniforms [1] as `uniforms_of_reading`, and no length below zero.
    Slice read(const Slice& shown, const Slice& like, const Eigen::VectorXd& uniforms) const;
    static constexpr int uniforms_of_reading = 5 + static_cast<int>(look_count);

private:
    double log_likely(const Suspect& s, int draw, const Slice& seen) const;
    /// Likelihood of the slice for each of the first `count` draws.
    Eigen::VectorXd likelihood(const Suspect& s, const Slice& seen, int count) const;
    Eigen::MatrixXd told_apart(const Slice& like) const;
    /// Given the weights of the draws: the median of what a look finds, and the days.
    double middling(const Suspect& s, Look look, const Eigen::VectorXd& weights) const;
    More more(const Suspect& s, const Eigen::VectorXd& weights) const;
    LookErrors errors_;
    cure::Outcome prediction_;
    base::Records records_;
    double time_, horizon_, slips_ = 0, error_ = 0;
    std::vector<Suspect> suspects_;
    int draws_;
};

} // namespace tidemark::inference
