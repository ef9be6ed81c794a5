// SPDX-License-Identifier: MIT
/// What a slice would show, and when the core is cured, in any draw of a case's inputs.
#pragma once

#include "cure/outcome.hpp"
#include "inference/case_inputs.hpp"
#include "inference/chance.hpp"
#include "inference/slice.hpp"
#include "inference/slice_lines.hpp"
#include "materials/targets.hpp"

#include <Eigen/Core>

#include <memory>
#include <utility>

namespace tidemark::inference {

/// What has come to the lean in one draw at one time.
struct Levels {
    /// Log of nitrite arrived over what pink needs, at the spots of both lines [1].
    Eigen::VectorXd profile;
    double least = 0; ///< the same of the lean where it is least
    Findings found;   ///< what looks besides the rings would find
};

/// Where the levels of a draw come from.
class Fields {
public:
    virtual ~Fields() = default;
    virtual Levels at(const Draw& draw, double time) const = 0;
    virtual double least(const Draw& draw, double time) const = 0;     ///< as Levels::least
    virtual double mean_salt(const Draw& draw, double time) const = 0; ///< [kg per kg cured lean]
    virtual double first(const Draw& draw) const = 0; ///< [s] before which it is as at that time
};

/// How far a table goes either way, as factors on the solved case's three numbers of similar.hpp
/// [1]. What lies beyond is read at the edge: with a 40th of the loss there is as good as none, and
/// with 40 times it the ring is a skin.
struct SliceReach {
    double loss = 40, bath = 2.5, film = 4;
};

class SliceModel {
public:
    /// Of one brine without an end: all cases similar to the solved one, read off a table of some
    /// ten or thirty. Keeps the fields of `outcome` alive. Throws base::InputError for a brine
    /// without nitrite, base::RunError for a cooler with a log.
    explicit SliceModel(const cure::Outcome& outcome, const SliceReach& reach = {});
    /// Of fields worked out otherwise.
    SliceModel(SliceLines lines, std::shared_ptr<const Fields> fields)
        : lines_(std::move(lines)), fields_(std::move(fields)) {}

    /// What the draw's slice shows after `time` [s], without errors of reading; microseconds.
    /// Before the first and after the last time of the table it shows what these do.
    Slice operator()(const Draw& draw, double time) const;

    /// When the last spot turns pink [s]; infinite if not by `horizon` [s].
    double through_time(const Draw& draw, double horizon) const;
    /// That, and between when the mean salt is in the band [kg per kg] [s].
    Fate fate(const Draw& draw, const materials::Band& taste, double horizon) const;

private:
    SliceLines lines_;
    std::shared_ptr<const Fields> fields_;
};

/// The lines of a solved piece.
SliceLines slice_lines(const cure::Outcome& outcome);

} // namespace tidemark::inference
