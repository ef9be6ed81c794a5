// SPDX-License-Identifier: MIT
#include "cure/track.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace tidemark::cure {

namespace {

constexpr Eigen::Index modes = 6; ///< of a row of needles

/// Weights of the lean no deeper than `rim` [m] below the outside.
Eigen::VectorXd rim_weights(const Grid& g, double rim) {
    Eigen::VectorXd w = g.lean_water;
    for (Eigen::Index i = 0; i < w.size(); ++i) {
        double depth = std::numeric_limits<double>::infinity();
        if (g.line) {
            depth = g.line->nodes.back() - g.line->nodes[static_cast<std::size_t>(i)];
            if (g.line->power == 0)
                depth = std::min(depth, g.line->nodes[static_cast<std::size_t>(i)]);
        } else {
            for (const geometry::Curve& c : g.mesh->curves)
                for (std::size_t k = 1; c.outer && k < c.points.size(); ++k)
                    depth = std::min(depth,
                                     geometry::distance(g.mesh->nodes[static_cast<std::size_t>(i)],
                                                        c.points[k - 1], c.points[k]));
        }
        if (depth > rim)
            w[i] = 0;
    }
    return w.sum() > 0 ? Eigen::VectorXd(w / w.sum())
                       : Eigen::VectorXd(g.lean_water / g.lean_water.sum());
}

/// A bath nothing is in contact with.
transport::Bath nothing(const transport::Bath& like) {
    transport::Bath b;
    b.partition = like.partition;
    return b;
}

} // namespace

Track::Track(const std::vector<StageSetup>& stages, const Levels& levels,
             std::unique_ptr<Grid> grid, Plane plane, const Track* coarse)
    : section(std::move(grid)), across(std::move(plane.grid)), stages_(stages), levels_(levels),
      rim_(rim_weights(*section, levels.surface)) {
    if (across) {
        const Eigen::VectorXd weight = across->lean_water / across->lean_water.sum();
        modes_ = Eigen::MatrixXd::Zero(weight.size(), plane.pitch > 0 ? modes : 1);
        for (Eigen::Index i = 0; i < weight.size(); ++i) {
            const geometry::Point& p = across->mesh->nodes[static_cast<std::size_t>(i)];
            for (Eigen::Index k = 0; k < modes_.cols();
                 ++k) // needles stand whole pitches from the middle
                modes_(i, k) =
                    weight[i] * (k == 0
                                     ? 1.0
                                     : 2 * std::cos(2 * std::numbers::pi * static_cast<double>(k) *
                                                    (plane.upright ? p.y() : p.x()) / plane.pitch));
        }
    }
    start = at(0); // before anything touches it
    std::size_t last_dosing = stages.size();
    for (std::size_t k = 0; k < stages.size(); ++k)
        if (stages[k].stage.kind != Stage::Kind::soak && stages[k].stage.kind != Stage::Kind::rest)
            last_dosing = k;
    double from = 0;
    for (std::size_t k = 0; k < stages.size(); ++k) {
        const Stage& stage = stages[k].stage;
        const bool open = !stage.duration || k == last_dosing;
        double solve = open ? std::max(stage.most, stage.duration.value_or(0)) : *stage.duration;
        if (coarse) { // with a margin for what this mesh finds
            const Span& c = coarse->spans()[k];
            double need = c.to - c.from;
            if (coarse->last_good && k == last_dosing)
                need = std::max(need, *coarse->last_good - c.from);
            solve = std::min(solve, 1.2 * need + 3600);
        }
        const Span* const before = coarse ? &coarse->spans()[k] : nullptr;
        begin(stages[k], from, solve, before);
        std::optional<double> came;
        if (stage.until) {
            came = when(*stage.until, stage.kind, from, solve);
            if (!came && coarse && coarse->spans()[k].met) { // later than the margin allows for
                solve = coarse->spans()[k].solved;
                spans_.pop_back();
                begin(stages[k], from, solve, before);
                came = when(*stage.until, stage.kind, from, solve);
            }
        }
        Span& span = spans_.back();
        if (stage.until) {
            const double end = from + stage.duration.value_or(solve);
            span.met = came && *came <= end; // the last dosing stage is searched beyond its end
            span.to = span.met ? *came : end;
        } else {
            span.to = from + *stage.duration;
        }
        if (span.gone && *span.gone > span.to)
            span.gone.reset();
        if (stage.kind == Stage::Kind::cover && span.to > from) {
            brine_->first.concentration = section->salt_chain.bath(span.to);
            if (levels.nitrite)
                brine_->second.concentration = section->nitrite_chain.bath(span.to);
        }
        if (k == last_dosing) {
            const double first = first_of_interest(stages[k].setup, solve);
            const auto salt = [&](double t) { return section->mean_salt(t); };
            if (salt(0) >= levels.too_salty)
                last_good = 0;
            else if (from > 0 && salt(from) >= levels.too_salty) // past it before the stage began
                last_good = first_time(salt, levels.too_salty, from / 1000, from);
            else if (const auto t = first_time([&](double s) { return salt(from + s); },
                                               levels.too_salty, first, solve))
                last_good = from + *t;
        }
        from = span.to;
    }
}

void Track::seal(Grid& grid, bool nitrite, const StageSetup& s, double from, double last) {
    const transport::Bath& like = nitrite ? s.setup.nitrite_bath : s.setup.salt_bath;
    grid.begin(nitrite, from, s.setup,
               {nothing(like), {}, true, first_of_interest(s.setup, last), last});
}

/// Dry cure: the film is saturated until what can go in has gone in, then drained or kept. What
/// stands in it of nitrite goes in as into meat without any: a dose draws nothing out of the meat.
void Track::dry(bool nitrite, const StageSetup& s, double solve, Span& span) {
    const StageSetup::Dose& dose = nitrite ? s.nitrite : s.salt;
    const transport::Chain& chain = nitrite ? section->nitrite_chain : section->salt_chain;
    const transport::Bath film = nitrite ? s.setup.nitrite_bath : s.setup.salt_bath;
    const double from = span.from;
    Grid::Contact contact{film, s.stage.sealed, false, first_of_interest(s.setup, solve), solve};
    contact.gives = nitrite;
    bool& coated = span.coated[nitrite];
    const auto begin_after = [&](double into) {
        contact.last = solve - into;
        contact.first = first_of_interest(s.setup, contact.last);
        section->begin(nitrite, from + into, s.setup, contact);
    };
    const double share = dose.load - dose.drip;
    double into = 0;
    if (share > 0) {
        const Grid::Film skin = section->film(nitrite, from, s.setup, contact);
        const double all = skin.times(share).all, end = s.stage.duration.value_or(solve);
        // Of it, what goes in before the stage ends.
        const double part = all > end ? std::min(share, skin.taken(end).sum()) : share;
        coated = dose.kept_water > 0 ? skin.at_once >= share : coated || skin.at_once > part / 2;
        if (coated && dose.kept_water == 0) {
            if (all <= end && !nitrite)
                span.gone = from + all;
            into = skin.times(part).middle;
            seal(*section, nitrite, s, from, into);
            contact.coat = section->coat(skin, std::min(all, end));
        } else if (!coated) {
            begin_after(0);
            const std::size_t link = chain.links().size() - 1;
            const auto taken = [&](double t) { return t > 0 ? chain.taken(link, from + t) : 0.0; };
            const auto gone = first_time(taken, share, contact.first / 20, solve);
            if (!gone)
                return;
            into = *gone;
            if (!nitrite)
                span.gone = from + into;
        } else if (!nitrite) {
            span.gone = from;
        }
    }
    contact.gives = false;
    if (dose.kept_water > 0) {
        contact.bath.water = dose.kept_water;
        if (coated || share <= 0) // all of it dissolves in what drips
            contact.bath.concentration = dose.load / dose.kept_water;
    } else {
        contact.closed = true;
        contact.bath = nothing(film);
    }
    begin_after(into);
}

void Track::begin(const StageSetup& s, double from, double solve, const Span* coarse) {
    using Kind = Stage::Kind;
    Span span;
    span.from = from;
    span.solved = solve;
    if (coarse)
        std::ranges::copy(coarse->coated, span.coated);
    const double first = first_of_interest(s.setup, solve);
    if (s.stage.kind == Kind::cover) {
        auto baths = std::pair(s.setup.salt_bath, s.setup.nitrite_bath);
        if (s.on && brine_) { // the brine stands aside unchanged while the piece is out of it
            baths = *brine_;
            baths.second.loss = s.setup.nitrite_bath.loss; // by the warmth of this stage
        }
        section->begin(false, from, s.setup, {baths.first, s.stage.sealed, false, first, solve});
        if (levels_.nitrite)
            section->begin(true, from, s.setup,
                           {baths.second, s.stage.sealed, false, first, solve});
        brine_ = baths;
    } else if (s.stage.kind == Kind::rub || s.stage.kind == Kind::bag) {
        dry(false, s, solve, span);
        if (levels_.nitrite)
            dry(true, s, solve, span);
    } else if (s.stage.kind == Kind::soak) {
        const int waters = s.stage.changes + 1;
        for (int k = 0; k < waters; ++k) {
            const double at = from + k * s.stage.duration.value_or(0) / waters;
            const double span_of_water = s.stage.duration ? *s.stage.duration / waters : solve;
            const double early = first_of_interest(s.setup, span_of_water);
            section->begin(false, at, s.setup,
                           {s.setup.salt_bath, s.stage.sealed, false, early, span_of_water});
            if (levels_.nitrite)
                section->begin(true, at, s.setup,
                               {s.setup.nitrite_bath, s.stage.sealed, false, early, span_of_water});
        }
    } else {
        for (const bool nitrite : {false, true})
            if (!nitrite || levels_.nitrite)
                seal(*section, nitrite, s, from, solve);
    }
    // The plane across the needles is shut throughout; only another temperature changes anything.
    const StageSetup* before = spans_.empty() ? nullptr : &stages_[spans_.size() - 1];
    const bool same =
        before && s.warmth == before->warmth && !s.setup.clock && !before->setup.clock;
    if (across && !same) {
        double rest = 0;
        for (std::size_t k = spans_.size(); k < stages_.size(); ++k)
            rest += stages_[k].stage.duration.value_or(stages_[k].stage.most);
        for (const bool nitrite : {false, true})
            if (!nitrite || levels_.nitrite)
                seal(*across, nitrite, s, from, s.setup.clock ? solve : rest);
    }
    spans_.push_back(span);
}

std::optional<double> Track::when(const Until& until, Stage::Kind kind, double from,
                                  double solve) const {
    using What = Until::What;
    std::function<double(double)> level;
    double goal = 0;
    const double u = until.value > 0 ? lean().concentration(until.value) : 0;
    const bool falls = kind == Stage::Kind::soak ||
                       (kind == Stage::Kind::rest && until.what == What::surface_salt);
    const double sign = falls ? -1 : 1;
    switch (until.what) {
    case What::cured:
    case What::lasting: {
        const double target = until.what == What::cured ? levels_.cured : levels_.lasting;
        level = [=, this](double t) {
            const double share = core(from + t) / target;
            return u > 0 ? std::min(share, section->mean_salt(from + t) / u) : share;
        };
        goal = 1;
        break;
    }
    case What::mean_salt:
        level = [=, this](double t) { return sign * section->mean_salt(from + t); };
        goal = sign * u;
        break;
    case What::surface_salt:
        level = [=, this](double t) { return sign * surface(from + t); };
        goal = sign * u;
        break;
    case What::even:
        level = [=, this](double t) { return -even(from + t); };
        goal = -until.value;
        break;
    }
    if (level(0) >= goal)
        return from;
    const double first = std::min(first_of_interest(stages_.front().setup, solve), solve / 1000);
    const auto t = first_time(level, goal, first, solve);
    return t ? std::optional<double>(from + *t) : std::nullopt;
}

} // namespace tidemark::cure
