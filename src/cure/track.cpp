// SPDX-License-Identifier: MIT
#include "cure/track.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

namespace tidemark::cure {

namespace {

/// The stretches of a mesh's outline, from left to right.
class Outside {
public:
    explicit Outside(const geometry::Mesh& mesh) {
        for (const geometry::Curve& c : mesh.curves)
            for (std::size_t k = 1; c.outer && k < c.points.size(); ++k) {
                const auto [a, b] =
                    std::minmax(c.points[k - 1], c.points[k],
                                [](const auto& p, const auto& q) { return p.x() < q.x(); });
                stretches_.push_back({a, b});
                longest_ = std::max(longest_, b.x() - a.x());
            }
        std::ranges::sort(stretches_, {}, [](const Stretch& s) { return s.first.x(); });
    }
    /// Whether `p` lies no deeper than `rim` [m].
    bool near(const geometry::Point& p, double rim) const {
        auto s = std::lower_bound(stretches_.begin(), stretches_.end(), p.x() - rim - longest_,
                                  [](const Stretch& of, double x) { return of.first.x() < x; });
        for (; s != stretches_.end() && s->first.x() <= p.x() + rim; ++s)
            if (std::min(s->first.y(), s->second.y()) <= p.y() + rim &&
                std::max(s->first.y(), s->second.y()) >= p.y() - rim &&
                geometry::distance(p, s->first, s->second) <= rim)
                return true;
        return false;
    }

private:
    using Stretch = std::pair<geometry::Point, geometry::Point>;
    std::vector<Stretch> stretches_;
    double longest_ = 0;
};

/// Weights of the lean no deeper than `rim` [m] below the outside.
Eigen::VectorXd rim_weights(const Grid& g, double rim) {
    Eigen::VectorXd w = g.lean_water;
    const auto outside = g.mesh ? std::optional<Outside>(*g.mesh) : std::nullopt;
    for (Eigen::Index i = 0; i < w.size(); ++i) {
        const auto at = static_cast<std::size_t>(i);
        bool deeper = false;
        if (g.line) {
            const double x = g.line->nodes[at];
            deeper = g.line->nodes.back() - x > rim && (g.line->power > 0 || x > rim);
        } else if (w[i] > 0) {
            deeper = !outside->near(g.mesh->nodes[at], rim);
        }
        if (deeper)
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

/// Nothing touches the piece for `last` [s].
Grid::Contact shut(const StageSetup& s, bool nitrite, double last) {
    const transport::Bath& like = nitrite ? s.setup.nitrite_bath : s.setup.salt_bath;
    return {nothing(like), {}, true, first_of_interest(s.setup, last), last};
}

} // namespace

Track::Track(const Question& question, const Coefficients& c,
             std::vector<std::unique_ptr<Grid>> grids, std::unique_ptr<Grid> across,
             const Track* coarse)
    : question_(question), c_(c), tank_(std::move(grids),
                                        [&] {
                                            std::vector<double> units;
                                            for (const PieceKind& kind : c.kinds)
                                                units.push_back(kind.units());
                                            return units;
                                        }()),
      across_(std::move(across)) {
    for (std::size_t k = 0; k < tank_.size(); ++k)
        rim_.push_back(rim_weights(tank_[k], c.kinds[k].levels.surface));
    for (std::size_t k = 0; k < tank_.size(); ++k)
        start_.push_back(at(0, k)); // before anything touches it
    for (std::size_t k = 0; k < c.stages().size(); ++k)
        if (stage(k).doses())
            last_dosing_ = k;
    times_.resize(tank_.size());
    double from = 0;
    for (std::size_t k = 0; k < c.stages().size(); ++k) {
        follow(k, from, coarse);
        from = spans_.back().to;
    }
    find(coarse);
}

void Track::follow(std::size_t k, double from, const Track* coarse) {
    const Stage& s = stage(k);
    const bool beyond = !s.duration || k == last_dosing_;
    double solve = beyond ? std::max(s.most, s.duration.value_or(0)) : *s.duration;
    double first = std::numeric_limits<double>::infinity();
    for (const PieceKind& kind : c_.kinds)
        first = std::min(first, first_of_interest(kind.stages[k].setup, solve));
    const Span* const before = coarse ? &coarse->spans()[k] : nullptr;
    if (coarse) { // with a margin for what this mesh finds
        double need = s.open() ? question_.base.at.value_or(0) - from : before->to - before->from,
               soon = need > 0 ? need : solve;
        bool all = true;
        for (std::size_t i = 0; k == last_dosing_ && i < tank_.size(); ++i) {
            const Times& t = coarse->times(i);
            std::vector<std::optional<double>> wanted{t.last_good};
            if (s.open()) {
                wanted.insert(wanted.end(), {t.cured, t.salted, t.lasting});
                all = all && t.cured;
            }
            for (const auto& time : wanted)
                if (time) {
                    need = std::max(need, *time - from);
                    soon = std::min(soon, *time - from);
                }
        }
        if (s.open()) {
            if (all)
                solve = std::min(solve, 1.25 * need);
            first = std::max(first, soon / 6);
        } else {
            solve = std::min(solve, 1.2 * need + 3600);
            first = std::min(first, solve / 50);
        }
    }
    begin(k, from, first, solve, before);
    std::optional<double> came;
    if (s.until) {
        came = when(s, from, solve);
        if (!came && coarse && before->met) { // later than the margin allows for
            solve = before->solved;
            spans_.pop_back();
            begin(k, from, first, solve, before);
            came = when(s, from, solve);
        }
    }
    Span& span = spans_.back();
    if (s.until) {
        const double end = from + s.duration.value_or(solve);
        span.met = came && *came <= end; // the last dosing stage is searched beyond its end
        span.to = span.met ? *came : end;
    } else {
        span.to = from + s.duration.value_or(solve);
    }
    for (Span::Rub& rub : span.rubs)
        if (rub.gone && *rub.gone > span.to)
            rub.gone.reset();
    for (std::size_t i = 0; k == last_dosing_ && i < tank_.size(); ++i) // before others follow
        times_[i].last_good =
            last_good(i, coarse ? coarse->times(i).last_good : std::optional<double>());
    if (s.kind == Stage::Kind::cover && span.to > from)
        for (std::size_t i = 0; i < tank_.size(); ++i) {
            const Grid& one = tank_[still_in(span.to)];
            brine_[i].first.concentration = one.salt_chain.bath(span.to);
            if (c_.nitrite) // of a held one, too
                brine_[i].second.concentration = one.nitrite_chain.bath(span.to);
        }
}

/// Dry cure: the film is saturated until what can go in has gone in, then drained or kept. What
/// stands in it of nitrite goes in as into meat without any: a dose draws nothing out of the meat.
void Track::dry(bool nitrite, std::size_t kind, const StageSetup& s, double solve, Span& span) {
    Grid& grid = tank_[kind];
    const StageSetup::Dose& dose = nitrite ? s.nitrite : s.salt;
    const transport::Chain& chain = nitrite ? grid.nitrite_chain : grid.salt_chain;
    const transport::Bath film = nitrite ? s.setup.nitrite_bath : s.setup.salt_bath;
    const double from = span.from;
    Grid::Contact contact{film, s.stage.sealed, false, first_of_interest(s.setup, solve), solve};
    contact.gives = nitrite;
    bool& coated = span.rubs[kind].coated[nitrite];
    std::optional<double>& gone = span.rubs[kind].gone;
    const auto begin_after = [&](double into) {
        contact.last = solve - into;
        contact.first = first_of_interest(s.setup, contact.last);
        grid.begin(nitrite, from + into, s.setup, contact);
    };
    const double share = dose.load - dose.drip;
    double into = 0;
    if (share > 0) {
        const Grid::Film skin = grid.film(nitrite, from, s.setup, contact);
        const double all = skin.times(share).all, end = s.stage.duration.value_or(solve);
        // Of it, what goes in before the stage ends.
        const double part = all > end ? std::min(share, skin.taken(end).sum()) : share;
        coated = dose.kept_water > 0 ? skin.at_once >= share : coated || skin.at_once > part / 2;
        if (coated && dose.kept_water == 0) {
            if (all <= end && !nitrite)
                gone = from + all;
            into = skin.times(part).middle;
            grid.begin(nitrite, from, s.setup, shut(s, nitrite, into));
            contact.coat = grid.coat(skin, std::min(all, end));
        } else if (!coated) {
            begin_after(0);
            const std::size_t link = chain.links().size() - 1;
            const auto taken = [&](double t) { return t > 0 ? chain.taken(link, from + t) : 0.0; };
            const auto used_up = first_time(taken, share, contact.first / 20, solve);
            if (!used_up)
                return;
            into = *used_up;
            if (!nitrite)
                gone = from + into;
        } else if (!nitrite) {
            gone = from;
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

double Track::out(std::size_t kind) const {
    return piece_of(question_, c_.kinds[kind].first)
        .out.value_or(std::numeric_limits<double>::infinity());
}

std::size_t Track::still_in(double t) const {
    std::size_t last = 0;
    for (std::size_t k = 0; k < tank_.size(); ++k) {
        if (out(k) >= t)
            return k;
        last = out(k) > out(last) ? k : last;
    }
    return last;
}

/// A brine, a soak's water or nothing, which all pieces share that are not taken out.
void Track::bathe(bool nitrite, std::size_t k, double from, double first, double last) {
    std::vector<double> times{from}; // at which somebody leaves
    for (std::size_t i = 0; i < tank_.size(); ++i)
        if (out(i) > from && out(i) < from + last)
            times.push_back(out(i));
    std::ranges::sort(times);
    times.erase(std::unique(times.begin(), times.end()), times.end());
    std::optional<double> strength;
    for (std::size_t n = 0; n < times.size(); ++n) {
        const double end = n + 1 < times.size() ? times[n + 1] : from + last;
        wet(nitrite, k, times[n], std::min(first, (end - times[n]) / 50), end - times[n], strength);
        const Grid& one = tank_[still_in(end)];
        if (n + 1 < times.size() && stage(k).kind != Stage::Kind::rest)
            strength = (nitrite ? one.nitrite_chain : one.salt_chain).bath(end);
    }
}

void Track::wet(bool nitrite, std::size_t k, double from, double first, double last,
                const std::optional<double>& strength) {
    double all = 0, left = 0; // water of the bath, and the shares of those still in it [kg]
    const auto is_out = [&](std::size_t i) { return out(i) <= from; };
    const auto bath_of = [&](std::size_t i) {
        const StageSetup& s = c_.kinds[i].stages[k];
        transport::Bath bath = nitrite ? s.setup.nitrite_bath : s.setup.salt_bath;
        if (s.stage.kind == Stage::Kind::cover) {
            const double loss = bath.loss; // by the warmth of this stage
            bath = nitrite ? brine_[i].second : brine_[i].first;
            bath.loss = loss;
        }
        return bath;
    };
    for (std::size_t i = 0; i < tank_.size(); ++i) {
        const double share = c_.kinds[i].units() * bath_of(i).water;
        all += share;
        left += is_out(i) ? 0 : share;
    }
    std::vector<const Setup*> setups;
    std::vector<Grid::Contact> contacts;
    for (std::size_t i = 0; i < tank_.size(); ++i) {
        const StageSetup& s = c_.kinds[i].stages[k];
        setups.push_back(&s.setup);
        if (s.stage.kind == Stage::Kind::rest || is_out(i)) {
            contacts.push_back(shut(s, nitrite, last));
            continue;
        }
        transport::Bath bath = bath_of(i);
        if (left < all)
            bath.water *= all / left;
        bath.concentration = strength.value_or(bath.concentration);
        contacts.push_back({bath, s.stage.sealed, false, first, last});
    }
    tank_.begin(nitrite, from, setups, contacts);
}

/// The plane across the needles is shut throughout; only another temperature changes anything.
void Track::plane(std::size_t k, double from, double solve) {
    const StageSetup& s = c_.stages()[k];
    const StageSetup* before = k > 0 ? &c_.stages()[k - 1] : nullptr;
    if (!across_ ||
        (before && s.warmth == before->warmth && !s.setup.clock && !before->setup.clock))
        return;
    double rest = 0;
    for (std::size_t j = k; j < c_.stages().size(); ++j)
        rest += stage(j).duration.value_or(stage(j).most);
    for (const bool nitrite : {false, true})
        if (!nitrite || c_.nitrite)
            across_->begin(nitrite, from, s.setup, shut(s, nitrite, s.setup.clock ? solve : rest));
}

void Track::begin(std::size_t k, double from, double first, double solve, const Span* coarse) {
    const Stage& s = stage(k);
    Span span;
    span.from = from;
    span.solved = solve;
    span.rubs.resize(tank_.size());
    if (coarse)
        for (std::size_t i = 0; i < tank_.size(); ++i)
            std::ranges::copy(coarse->rubs[i].coated, span.rubs[i].coated);
    if (s.kind == Stage::Kind::cover && (brine_.empty() || !c_.stages()[k].on)) {
        brine_.clear(); // else the brine stood aside unchanged while the piece was out of it
        for (const PieceKind& kind : c_.kinds)
            brine_.emplace_back(kind.stages[k].setup.salt_bath, kind.stages[k].setup.nitrite_bath);
    }
    for (const bool nitrite : {false, true}) {
        if (nitrite && !c_.nitrite)
            continue;
        if (s.dry()) {
            for (std::size_t i = 0; i < tank_.size(); ++i)
                dry(nitrite, i, c_.kinds[i].stages[k], solve, span);
        } else if (s.kind == Stage::Kind::soak) {
            const int waters = s.changes + 1;
            const double each = s.duration ? *s.duration / waters : solve;
            for (int w = 0; w < waters; ++w)
                bathe(nitrite, k, from + w * s.duration.value_or(0) / waters,
                      first_of_interest(c_.kinds.front().stages[k].setup, each), each);
        } else {
            bathe(nitrite, k, from, first, solve);
        }
    }
    plane(k, from, solve);
    spans_.push_back(span);
}

Track::Level Track::until(const Until& until, Stage::Kind does, double from,
                          std::size_t kind) const {
    using What = Until::What;
    const Levels& levels = c_.kinds[kind].levels;
    const double u = until.value > 0 ? lean(kind).concentration(until.value) : 0;
    const bool falls = does == Stage::Kind::soak ||
                       (does == Stage::Kind::rest && until.what == What::surface_salt);
    const double sign = falls ? -1 : 1;
    switch (until.what) {
    case What::cured:
    case What::lasting: {
        const double target = until.what == What::cured ? levels.cured : levels.lasting;
        return [=, this](double t) {
            const double share = core(from + t, kind) / target;
            return (u > 0 ? std::min(share, grid(kind).mean_salt(from + t) / u) : share) - 1;
        };
    }
    case What::mean_salt:
        return [=, this](double t) { return sign * (grid(kind).mean_salt(from + t) - u); };
    case What::surface_salt:
        return [=, this](double t) { return sign * (surface(from + t, kind) - u); };
    case What::even:
        break;
    }
    return [=, this](double t) { return until.value - even(from + t, kind); };
}

/// When what a stage waits for has come true in all pieces [s].
std::optional<double> Track::when(const Stage& s, double from, double solve) const {
    std::vector<Level> levels;
    for (std::size_t k = 0; k < tank_.size(); ++k)
        levels.push_back(until(*s.until, s.kind, from, k));
    const auto level = [&](double t) {
        double least = std::numeric_limits<double>::infinity();
        for (const Level& l : levels)
            least = std::min(least, l(t));
        return least;
    };
    if (level(0) >= 0)
        return from;
    const double first = std::min(first_of_interest(c_.first(), solve), solve / 1000);
    const auto t = first_time(level, 0, first, solve);
    return t ? std::optional<double>(from + *t) : std::nullopt;
}

} // namespace tidemark::cure
