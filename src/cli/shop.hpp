// SPDX-License-Identifier: MIT
/// A notebook's batches, each asked again by its own command, and what they teach.
#pragma once

#include "base/record.hpp"
#include "cli/options.hpp"
#include "cli/question_from_options.hpp"
#include "cure/outcome.hpp"
#include "cure/setup.hpp"
#include "inference/learn.hpp"
#include "inference/notebook.hpp"

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace tidemark::cli {

/// The flags of piece, brine and model as a command that asks the same case again.
std::string command_of(const Options& options);

/// What a look at a slice is asked of: the schedule that was told, or one brine without an end.
AskedQuestion question_of(const Options& options, base::Records& records);

/// The options of such a command; `where` heads the message of what can no longer be read.
Options options_of(const std::string& command, const std::string& where);

/// What was learnt, and of which batches.
struct Shop {
    std::vector<inference::Batch> batches; ///< of one muscle
    inference::Learnt learnt;
    std::vector<std::string> warnings; ///< of batches left out
};

/// Learns from notebooks; what was worked out for one serves the next.
class Teacher {
public:
    /// `like` is a prediction of the case that is asked for; its inputs give the prior. Throws
    /// InputError for a case that sets what is to be learnt.
    Teacher(const cure::Outcome& like, const base::Records& records);

    /// Learns from the batches of the same muscle among `batches` of the file `name`: from as many
    /// of the last as can be worked out in a second or two, where equal ones cost nothing. A batch
    /// is kept by its command and its slice, so that thousands need little room.
    Shop shop(const std::vector<inference::Batch>& batches, const std::string& name);

private:
    using Case = std::pair<std::string, int>; ///< command, and draws for a trial of it
    std::string muscle_;
    const base::Records& records_;
    inference::ShopPrior prior_;
    std::map<Case, std::map<double, std::shared_ptr<const inference::Trial>>> trials_; ///< by time
};

/// A case with the middle of its numbers where the slices of a notebook put it, and what stays
/// unsure about that middle.
struct Taught {
    cure::Case question;
    inference::Learnt rest;

    /// The inputs of a prediction or schedule of that case.
    inference::Inputs inputs(const cure::Case& asked, const cure::Setup& setup,
                             const base::Records& records) const;
};

/// Learns for the case of `like`; what the reader must know of it joins `warnings`. `alone`: no
/// other muscle is asked for, so that what all meat shares may be set too, and not drawn alone.
Taught by_shop(const inference::Notebook& book, const Given& file, const cure::Outcome& like,
               const base::Records& records, std::vector<std::string>& warnings, bool alone = true);

/// The notebook's word on a question, if one was given.
class OwnShop {
public:
    explicit OwnShop(const Options& options);
    /// Puts what was learnt into the question, of each muscle in it by its own slices.
    void teach(cure::Question& question, const base::Records& records);
    inference::InputsOf inputs_of(const base::Records& records) const;
    std::vector<std::string> says;

private:
    const Given* given_;
    std::optional<inference::Notebook> book_;
    std::map<std::string, Taught> taught_; ///< by muscle
};

} // namespace tidemark::cli
