// SPDX-License-Identifier: MIT
/// Charts on a page: an axis of days or of what else runs along, one upright axis, and lines with
/// their names standing on them.
#pragma once

#include "inference/chance.hpp"
#include "output/drawing.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// One line of a chart, in the chart's own units.
struct Trace {
    Points points;
    std::string name, colour;
    double width = 5;
    Dash dash = Dash::none;
};

/// A frame with axes; `days` and `most` are where they end.
class Chart {
public:
    Chart(Drawing& drawing, const Box& frame, double days, double most)
        : d_(drawing), frame_(frame), days_(days), most_(most) {}

    Point at(double day, double value) const {
        return {frame_.left + day / days_ * (frame_.right - frame_.left),
                frame_.bottom - value / most_ * (frame_.bottom - frame_.top)};
    }
    /// A ground between two days.
    void ground(double from, double to, const std::string& colour);
    /// `along`: what lies on the lower axis; empty where it is named elsewhere.
    void axes(const std::string& upright, const std::string& along = "days");
    /// Their names keep clear of each other and of `others`, such as a dot that comes on top.
    void traces(const std::vector<Trace>& list, const Points& others = {});

private:
    Drawing& d_;
    Box frame_;
    double days_, most_;
};

/// A round step that cuts `span` into at most `parts`.
double round_step(double span, int parts);

constexpr const char* chance_heading = "The chance of each day";

/// How the chance runs over the days, within `where`; nothing where there is no best day.
void draw_chance(Drawing& drawing, const Box& where, const inference::BestDay& best);

/// The same as one <svg> element to stand in a page of HTML.
std::string chance_svg(const inference::BestDay& best);

} // namespace tidemark::output
