// SPDX-License-Identifier: MIT
/// The figures of an answer, each one page: the answer in the title, what can hurt people above
/// it, then the pictures.
#pragma once

#include "cure/choose.hpp"
#include "inference/choose_chance.hpp"
#include "output/section_drawing.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::output {

/// Sections on some days, the first with the fronts by day, each under a heading of its own.
struct SectionPanel {
    enum class Shows {
        section,
        across,
        told
    }; ///< the plane across the needles; the day of a slice
    cure::Picture picture;
    Shows shows = Shows::section;
    SectionMarks marks = {};
    std::size_t piece = 0;
};

constexpr const char* sections_heading = "How far the cure has come";

/// A piece, or several, in brine: its sections, and the chance of each day. What was `seen` stands
/// in place of the best day.
Drawing section_figure(const inference::Answer& answer, const std::vector<SectionPanel>& panels,
                       const std::optional<inference::Slice>& seen = {});

/// The sections alone with their key, as one <svg> element to stand in a page of HTML.
std::string sections_svg(const inference::Answer& answer, const std::vector<SectionPanel>& panels);

/// A schedule: salt and nitrite through its stages by the readings of its `course`, and sections.
Drawing plan_figure(const inference::Answer& answer, const std::vector<cure::Reading>& course,
                    const std::vector<SectionPanel>& panels);

/// The ways as bars along the days, with the days on which each is sure enough. Not `alone`: for a
/// column of a page that says the rest.
Drawing choice_figure(const cure::Choice& choice, const inference::Ways& ways, bool alone = true);

} // namespace tidemark::output
