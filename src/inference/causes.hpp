// SPDX-License-Identifier: MIT
/// What may have been otherwise than told when a core is grey: each cause is the same model with
/// one change. How often a cause is met, and how far it goes, stands in models/causes.ini.
#pragma once

#include "base/record.hpp"
#include "cure/outcome.hpp"
#include "inference/slice_model.hpp"

#include <Eigen/Core>

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::inference {

/// What to do next time; of two that are both due the first here is told first.
enum class Remedy { reach, brine, needles, longer, nothing };
constexpr std::size_t remedy_count = 5;

/// One cause, as a cook reads it.
struct CauseText {
    std::string name;         ///< "colder", as in the records
    std::string brief;        ///< "a colder cooler"
    std::string title;        ///< "the cooler was colder than told, or froze the piece in part"
    std::string check;        ///< the next thing to look at
    std::optional<Look> look; ///< that shows it, if one does
    Remedy remedy = Remedy::longer;
    std::string flag = {}; ///< that tells it as it was; of a shut face the name says --seal
};
const std::vector<CauseText>& cause_texts();

/// A cause, or two together, with what its pieces would have shown.
struct Suspect {
    CauseText text;
    double prior = 0;             ///< share of pieces of which this is so [1]
    std::vector<Draw> draws;      ///< of the inputs, the change among them
    std::vector<Slice> shown;     ///< at the time asked for, without errors of reading
    std::vector<double> log_grey; ///< log of the chance that a cook sees grey in it at all
    std::vector<double> through;  ///< when the core is cured [s]; infinite: not by the horizon
    std::shared_ptr<const SliceModel> model;
};

/// All causes a case can have; a ball has no faces to shut.
class Causes {
public:
    /// `draws` quasi-random draws each, deterministic for a `seed`. Solves the case anew for each
    /// shut face and for fat. `inputs`: in place of case_inputs(), as slices have taught. `records`
    /// are kept by reference. A schedule is fitted, as in schedule_slice.hpp. Throws as SliceModel,
    /// and for several pieces.
    Causes(const cure::Outcome& outcome, const base::Records& records, double time, int draws,
           std::uint64_t seed = 1, const cure::Progress& progress = {},
           const Inputs* inputs = nullptr);

    /// One cause each, the first as told. Their shares are 1 together.
    const std::vector<Suspect>& single() const { return single_; }
    /// Every two together, but for two that both change the section.
    std::vector<Suspect> pairs() const;

    double horizon() const { return horizon_; } ///< [s] how far pieces are followed
    /// Of a ring, where a schedule's slices are fitted; 0: where they are solved [m].
    double ring_error() const { return ring_error_; }

private:
    struct Body {
        Drawing drawing;
        std::shared_ptr<const SliceModel> model;
    };
    std::vector<Draw> draws(const Drawing& drawing, const std::vector<std::string>& names) const;
    Suspect suspect(const CauseText& text, const std::vector<std::string>& names) const;
    void add_brine(const std::string& name, const cure::Outcome& outcome);
    void add_schedule(const std::string& name, const cure::Question& question,
                      const std::vector<Draw>& served);
    bool possible(const std::string& name, const cure::Question& question) const;

    const base::Records& records_;
    base::Records set_; ///< with the case's overrides
    double time_, horizon_, ring_error_ = 0;
    Inputs inputs_;
    Eigen::MatrixXd uniforms_, values_;
    std::map<std::string, Body> bodies_; ///< by the cause that changes the section; "": as told
    std::vector<Suspect> single_;
};

} // namespace tidemark::inference
