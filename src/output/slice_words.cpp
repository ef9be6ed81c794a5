// SPDX-License-Identifier: MIT
#include "output/slice_words.hpp"

#include "base/quantity.hpp"
#include "base/show.hpp"
#include "base/text.hpp"
#include "output/best_view.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

namespace tidemark::output {
namespace {

using inference::Slice;

struct Named {
    const char* name;
    std::optional<double> Slice::*reading;
};
constexpr Named readings[] = {{"top", &Slice::top},          {"bottom", &Slice::bottom},
                              {"left", &Slice::left},        {"right", &Slice::right},
                              {"every face", &Slice::every}, {"high", &Slice::core_height},
                              {"wide", &Slice::core_width}};

std::string size_of(double metres) {
    return base::shown_units() == base::Units::us ? base::show_length(metres)
                                                  : fixed(1000 * metres, 0) + " mm";
}

constexpr double often = 0.25; ///< of pieces that never get there: then days are no advice [1]

/// The first day a cook can keep to that is no sooner [s].
double kept(double seconds) {
    for (const double t : inference::days_to_try(2 * seconds + 86400))
        if (t >= seconds)
            return t;
    return seconds;
}

/// "brine-salt" in words
std::string name_of(inference::Look look) {
    return look == inference::Look::ph ? "pH"
                                       : boost::replace_all_copy(text_of(look).name, "-", " ");
}

} // namespace

std::string percent(double share) {
    return share < 0.005 ? "<1 %" : share > 0.995 ? ">99 %" : fixed(100 * share, 0) + " %";
}

std::string described(const Slice& s) {
    if (s.through) {
        return "pink through";
    }
    std::string rings, core;
    std::set<std::string> depths, sizes;
    for (const Named& n : readings) {
        if (!(s.*n.reading)) {
            continue;
        }
        const std::string name = n.name, size = size_of(*(s.*n.reading));
        if (name == "high" || name == "wide") {
            core += (core.empty() ? "grey core " : ", ") + size + ' ' + name;
            sizes.insert(size);
        } else {
            rings += (rings.empty() ? "ring " : ", ") + name + ' ' + size;
            depths.insert(size);
        }
    }
    if (s.every || (s.top && s.bottom && s.left && s.right && depths.size() == 1)) {
        rings = "ring " + *depths.begin();
    }
    if (s.core_height && s.core_width && sizes.size() == 1) {
        core = "grey core " + *sizes.begin() + " across";
    } else if (s.core_height && s.core_width && *s.core_width == 0) {
        core =
            "grey core " + size_of(*s.core_height) + " high, all of it above or below the middle";
    }
    return rings + (rings.empty() || core.empty() ? "" : "; ") + core;
}

std::string seen_on(const Slice& s) {
    return kept_day(s.time) + ": " + described(s);
}

std::string found_text(inference::Look look, double found) {
    using enum inference::Look;
    switch (look) {
    case thickness:
        return base::show_length(found);
    case cooler:
        return base::show_temperature(found);
    case brine_nitrite:
        return show_ppm(found);
    case ph:
        return fixed(found, 1);
    default:
        return show_percent(found);
    }
}

std::string found_text(const inference::Findings& found) {
    std::string text;
    for (const inference::Look look : inference::looks) {
        if (const auto& value = found[static_cast<std::size_t>(look)]) {
            text += (text.empty() ? "" : ", ") + name_of(look) + ' ' + found_text(look, *value);
        }
    }
    return text;
}

Act act_on(const inference::Still& s) {
    if (s.seen.through)
        return {"STILL IN", "it is pink through: no more days for colour's sake."};
    if (s.remedy.remedy == inference::Remedy::reach)
        return {"TURN IT", "now, so that brine reaches every face. Left as it is, half are cured " +
                               (std::isinf(s.cured.half) ? std::string("never.")
                                                         : "by day " + tenths(s.cured.half) + '.')};
    if (s.too_long)
        return {"STILL IN",
                "it would have to stay until " +
                    kept_day(s.best.likely() ? s.best.best->time : kept(s.cured.half)) +
                    ", longer than cold alone keeps it safe: take it out and cook it. Cut the next "
                    "one thinner, or inject it."};
    if (!s.best.likely() && s.cured.share_never > often)
        return {"STILL IN",
                "more days will hardly cure it: take it out and cook it. Cut the next one "
                "thinner, or inject it."};
    const bool never = std::isinf(s.cured.late), salty = s.last_good.half < s.cured.late;
    const double last = never ? s.cured.half : s.cured.late;
    const double until = s.best.likely() ? s.best.best->time : kept(last);
    return {"LEAVE IT",
            "until " + kept_day(until) +
                (s.best.likely() ? ": " + right_and_not(*s.best.best) + " Half"
                 : salty         ? ", then soak: half"
                                 : ": half") +
                " are cured by day " + tenths(s.cured.half) +
                (never ? ", " + fixed(100 * s.cured.share_never, 0) + " in 100 never."
                       : ", 95 in 100 by " + tenths(s.cured.late) + '.'),
            s.best.likely()};
}

std::string of_cure(const std::string& text, const cure::Question& q) {
    if (std::ranges::count(q.without, "needles") > 0) {
        std::string own = boost::replace_all_copy(text, "put brine in by needles, or cut", "cut");
        boost::replace_all(own, "thinner, or inject it.", "thinner.");
        cure::Question rest = q;
        rest.without.clear();
        return of_cure(own, rest);
    }
    if (q.pump) {
        std::string own = boost::replace_all_copy(text, "put brine in by needles",
                                                  "set the needles closer and weigh what stays in");
        boost::replace_all(own, " Cut the next one thinner, or inject it.",
                           " Cut the next one thinner, or set the needles closer.");
        return own;
    }
    if (std::ranges::any_of(
            q.stages, [](const cure::Stage& s) { return s.kind == cure::Stage::Kind::cover; }))
        return text;
    std::string own = text;
    for (const auto& [of_brine, dry] :
         {std::pair{"so that brine", "so that the cure"},
          {"out of the brine", "bare of the cure"},
          {"put brine in by needles", "put a brine in by needles"},
          {"make the brine anew or stronger", "rub it anew or with more"},
          {"between the brine and", "between the face and"},
          {"no brine got", "no cure got"}})
        boost::replace_all(own, of_brine, dry);
    return own;
}

std::string title_of(const inference::Cause& c, const inference::Why& w) {
    if (!c.text.title.empty())
        return of_cure(c.text.title, w.told.question);
    const std::string grey = in_100(1 - w.told_cured) + " such pieces are still grey on that day";
    return w.told_cured < 0.5 ? "too few days: as told, " + grey
                              : "nothing went wrong, pieces differ: as told, " + grey;
}

std::string then_of(const inference::Still& s) {
    const auto& best = s.best;
    if (s.seen.through || best.likely() || s.remedy.remedy == inference::Remedy::reach)
        return "";
    if (s.cured.share_never > often)
        return "if it stays in, " + fixed(100 * s.cured.share_never, 0) +
               " in 100 pieces like this never cure to the core.";
    if (!best.best)
        return "no day is right in salt as well.";
    return (best.likely() ? ""
                          : "right without a soak is best on " + kept_day(best.best->time) + ": ") +
           in_100(best.best->right) + " are then right" +
           (not_right(*best.best).empty() ? "" : "; " + not_right(*best.best)) + '.';
}

std::string text_of(inference::Remedy remedy) {
    static const std::array<std::string, inference::remedy_count> texts{
        "turn it or hang it free, so that brine reaches every face",
        "make the brine anew or stronger, and weigh the premix",
        "put brine in by needles, or cut it thinner", "leave it longer",
        "change nothing: the day was right, and meat varies"};
    return texts[static_cast<std::size_t>(remedy)];
}

} // namespace tidemark::output
