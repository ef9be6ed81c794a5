// SPDX-License-Identifier: MIT
/// What a page asks of the last answer; the answer itself comes from main(), as on the command
/// line. Texts live until the next call.
#include "cli/told.hpp"
#include "cure/picture.hpp"
#include "cure/two_meshes.hpp"
#include "output/chart.hpp"
#include "output/json.hpp"
#include "output/json_parts.hpp"
#include "output/section_drawing.hpp"

#include <emscripten.h>

#include <algorithm>
#include <iostream>
#include <streambuf>
#include <string>

// clang-format off
EM_JS(void, heard, (const char* text), { Module.said(UTF8ToString(text)); });
// clang-format on

namespace {

using namespace tidemark;
namespace parts = output::json_parts;

/// Standard error, given to the worker as it comes: how far it is, and what was refused.
class Said : public std::streambuf {
public:
    Said() { std::cerr.rdbuf(this); }

private:
    int_type overflow(int_type c) override {
        const char text[2]{traits_type::to_char_type(c), 0};
        heard(text);
        return c;
    }
    std::streamsize xsputn(const char* text, std::streamsize count) override {
        heard(std::string(text, static_cast<std::size_t>(count)).c_str());
        return count;
    }
};
Said said;

std::string text;

} // namespace

extern "C" {

/// The last answer as --json prints it, but for what is told day by day; empty if there is none.
const char* tidemark_json() {
    const auto& told = cli::last_told();
    if (!told)
        return "";
    text = output::json(told->command, told->answer, told->change);
    return text.c_str();
}

/// How the chance of the last answer runs over the days, as SVG; empty where none was counted.
const char* tidemark_chance() {
    const auto& told = cli::last_told();
    text.clear();
    if (told && told->answer.ranges)
        text = output::chance_svg(told->answer.ranges->best);
    else if (told && told->answer.chance)
        text = output::chance_svg(told->answer.chance->best);
    return text.c_str();
}

/// The last answer on a `day` from its start, read off what was solved: the section, the salt and
/// the nitrite. Days past what was solved are told of its end.
const char* tidemark_on(double day) {
    const auto& told = cli::last_told();
    if (!told)
        return "";
    const cure::Outcome& o = told->answer.outcome;
    const cure::Meshes& m = *o.solved;
    const double last = m.fine->spans().back().from + m.fine->spans().back().solved;
    const double time = std::clamp(86400 * day, 0., last);
    const cure::Reading r = cure::extrapolated(m.coarse->at(time, 0), m.fine->at(time, 0));
    parts::Json object = {
        {"day", time / 86400},
        {"last_day", last / 86400},
        {"core_nitrite_ppm", parts::number(r.core_arrived, 1e-6)},
        {"core_salt_percent", parts::number(r.core_salt, 1e-2)},
        {"mean_salt_percent", parts::number(r.mean_salt, 1e-2)},
        {"section", output::section_svg(told->answer, cure::picture(o, time, 0, {}))}};
    text = parts::text(object);
    return text.c_str();
}
}
