// SPDX-License-Identifier: MIT
#include "cure/read_off.hpp"

#include "base/quantity.hpp"
#include "base/show.hpp"
#include "cure/say.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

namespace {

using Does = Stage::Kind;
using Sides = transport::Chain Grid::*;

constexpr double day = 86400;

/// A stage of one kind of piece, on both meshes.
struct Walk {
    const Meshes& m;
    std::size_t kind, stage;
    double end[2]; ///< [s] on the coarse mesh and on the fine one
    // Once they have gone different ways the fine mesh is set beside itself: that leaves its
    // values.
    const Track& coarse() const { return stage < m.parting() ? *m.coarse : *m.fine; }
    const StageSetup& setup() const { return m.c.kinds[kind].stages[stage]; }
    const Track::Span& span(bool fine) const { return (fine ? *m.fine : coarse()).spans()[stage]; }
    /// ask(chain of a kind, from, to) on both.
    template <class Ask> double both(Sides chain, std::size_t k, const Ask& ask) const {
        return extrapolated(ask(coarse().grid(k).*chain, span(false).from, end[0]),
                            ask(m.fine->grid(k).*chain, span(true).from, end[1]));
    }
    double taken(Sides chain, std::size_t k) const { ///< by one unit of the kind [kg]
        return both(chain, k, [](const transport::Chain& c, double from, double to) {
            return c.empty() ? 0.0 : c.taken_between(from, to);
        });
    }
    double bath(Sides chain) const { ///< [kg per kg bath water]
        return both(chain, m.fine->still_in(end[1]),
                    [](const transport::Chain& c, double, double to) {
                        return c.empty() ? 0.0 : c.bath(to);
                    });
    }
    double water() const { ///< of the bath, around all pieces [kg]
        double sum = 0;
        for (const PieceKind& k : m.c.kinds)
            sum += k.units() * k.stages[stage].setup.salt_bath.water;
        return sum;
    }
    double taken_by_all(Sides chain) const { ///< [kg]
        double sum = 0;
        for (std::size_t k = 0; k < m.c.kinds.size(); ++k)
            sum += m.c.kinds[k].units() * taken(chain, k);
        return sum;
    }
};

/// `water` [kg] with salt and nitrite in it [kg per kg water].
BrineState bath_state(const Pickle& p, double water, double salt, double nitrite) {
    const double rest = p.water > 0 ? (1 - p.salt - p.nitrite) / p.water : 1;
    const double brine = rest + salt + nitrite; // per kg of water
    return {salt / brine, nitrite / brine, water * brine};
}

void baths(StageResult& r, const Walk& w) {
    const Setup& s = w.setup().setup;
    const double units = s.units, water = s.salt_bath.water, all = w.water();
    r.salt_taken = units * w.taken(&Grid::salt_chain, w.kind);
    r.nitrite_taken = units * w.taken(&Grid::nitrite_chain, w.kind);
    if (r.stage.dry()) {
        r.salt_left = units * w.setup().salt.load - r.salt_taken;
        r.nitrite_left = units * w.setup().nitrite.load - r.nitrite_taken;
        return;
    }
    if (r.stage.kind == Does::rest || !(w.end[1] > w.span(true).from))
        return;
    const double salt = w.bath(&Grid::salt_chain), nitrite = w.bath(&Grid::nitrite_chain);
    r.bath_end = bath_state(s.pickle, all, salt, nitrite);
    r.bath_start = r.bath_end;
    if (std::isfinite(water)) { // what the baths held at the start is what they hold and gave
        r.salt_left = units * water * salt;
        r.nitrite_left = units * water * nitrite;
        r.bath_start = bath_state(s.pickle, all, salt + w.taken_by_all(&Grid::salt_chain) / all,
                                  nitrite + w.taken_by_all(&Grid::nitrite_chain) / all);
    }
    if (r.stage.kind == Does::soak) { // fresh, however often
        r.bath_start = bath_state(s.pickle, all, 0, 0);
        r.salt_left = -r.salt_taken;
        r.nitrite_left = -r.nitrite_taken;
    }
    if (!w.setup().on && r.stage.kind == Does::cover)
        r.bath_start = {s.pickle.salt, s.pickle.nitrite, r.bath_start.mass};
}

StageResult stage_result(const Meshes& m, std::size_t kind, std::size_t k, double from, double at) {
    Walk w{m, kind, k, {0, 0}};
    StageResult r;
    r.stage = w.setup().stage;
    for (const bool fine : {false, true})
        w.end[fine] = r.stage.open() ? at : w.span(fine).to;
    r.from = from;
    r.to = extrapolated(w.end[0], w.end[1]);
    // A last brine or rub is followed past its end, so both are read at one time; else each
    // mesh at its own.
    if (k + 1 == m.c.stages().size() && w.stage < m.parting() && r.stage.until && r.stage.doses())
        w.end[0] = w.end[1] = r.to;
    r.temperature = r.stage.log ? r.stage.log->between(r.from, r.to).mean()
                                : r.stage.temperature.value_or(m.question.base.temperature);
    r.met = w.span(true).met;
    r.barely = r.met != m.coarse->spans()[k].met;
    r.end = extrapolated(w.coarse().at(w.end[0], kind, m.fine->core_at(w.end[1], kind)),
                         m.fine->at(w.end[1], kind));
    r.gone = extrapolated(w.span(false).rubs[kind].gone, w.span(true).rubs[kind].gone);
    baths(r, w);
    return r;
}

/// Salt over what it comes to when all is even; of one brine, never changed.
double at_balance(const Meshes& m, std::size_t kind) {
    const transport::System& own = m.fine->grid(kind).salt_chain.last().system;
    const Setup& s = m.c.kinds[kind].setup();
    if (own.held)
        return s.salt_bath.partition * s.salt_bath.concentration;
    double salt = 0, room = 0;
    for (std::size_t k = 0; k < m.c.kinds.size(); ++k) {
        const transport::System& system = m.fine->grid(k).salt_chain.last().system;
        salt += m.c.kinds[k].units() * system.capacity.dot(system.initial);
        room += m.c.kinds[k].units() * system.capacity.sum();
    }
    return salt / room;
}

/// Core and mean at `t`, the error of the core there.
void state_at(PieceOutcome& p, const Meshes& m, std::size_t kind, double t) {
    const Track& fine = *m.fine;
    // Past the end of the coarse schedule, or once they have gone different ways: the fine alone.
    const Track& coarse = m.parting() < m.c.stages().size() ? fine : *m.coarse;
    const Grid& g = fine.grid(kind);
    const Setup& s = m.c.kinds[kind].setup();
    const Tissue& lean = s.tissues.at("lean");
    const bool nitrite = m.c.nitrite;
    const double on[] = {std::min(t, coarse.grid(kind).salt_chain.last().history->last() +
                                         coarse.grid(kind).salt_chain.last().from),
                         t};
    const auto both = [&](const auto& ask) {
        return extrapolated(ask(coarse.grid(kind), on[0]), ask(g, on[1]));
    };
    const geometry::Lowest low = g.lowest(fine.cure(g, t));
    const auto at_core = [&](const auto& nodal) {
        return std::max(0.0, both([&](const Grid& on_mesh, double when) {
                            return on_mesh.value_at(nodal(on_mesh, when), low.at);
                        }));
    };
    const double value = extrapolated(coarse.core(on[0], kind), fine.core(on[1], kind));
    const double salt =
        nitrite ? at_core([](const Grid& o, double w) { return o.salt(w); }) : std::max(0.0, value);
    p.core = {g.line ? 0.0 : low.at.x(), g.line ? low.at.x() : low.at.y(), g.depth(low.at)};
    p.core.salt = lean.salt_share(salt);
    p.core.water_salt = salt / (1 + salt);
    p.core.arrived = nitrite ? lean.water_fraction * std::max(0.0, value) : 0;
    p.core.residual = nitrite ? lean.water_fraction *
                                    at_core([](const Grid& o, double w) { return o.residual(w); })
                              : 0;
    p.core_error =
        std::abs(fine.core(on[1], kind) - coarse.core(on[0], kind)) / 3 * lean.water_fraction;
    p.core_between_needles = fine.between_needles(t);

    const double mean = both([](const Grid& o, double w) { return o.mean_salt(w); });
    p.mean.salt = lean.salt_share(mean);
    p.mean.water_salt = mean / (1 + mean);
    if (nitrite) {
        p.mean.arrived =
            lean.water_fraction * both([](const Grid& o, double w) { return o.mean_arrived(w); });
        p.mean.residual =
            lean.water_fraction * both([](const Grid& o, double w) { return o.mean_residual(w); });
    }
    if (m.c.stages().back().stage.open() && m.c.stages().size() == 1 && !m.c.pumped &&
        m.c.stages().front().stage.kind == Does::cover) {
        const double full = at_balance(m, kind);
        p.core.of_equilibrium = salt / full;
        p.mean.of_equilibrium = mean / full;
    }
    p.thiele = p.core.depth * std::sqrt(lean.nitrite.loss / lean.nitrite.diffusivity);
    p.fourier = lean.salt.diffusivity * t / (p.core.depth * p.core.depth);
}

/// In one unit, for a name.
std::string length_of(double metres) {
    return base::shown_units() == base::Units::us ? base::show_length(metres)
                                                  : base::significant(1000 * metres, 3) + " mm";
}

std::string name_of(std::size_t number, const Piece& piece, const Setup& setup) {
    return "piece " + std::to_string(number) + " (" + cut_name(piece) + ", " +
           length_of(2 * setup.half_thickness) + ")";
}

/// Of a kind of piece; what tells it from others of its kind is filled in afterwards.
PieceOutcome piece_outcome(const Meshes& m, std::size_t kind, double at,
                           const materials::Band& taste) {
    const PieceKind& k = m.c.kinds[kind];
    PieceOutcome p;
    p.weight = k.setup().weight;
    p.length = k.setup().length;
    p.target = k.levels.target;
    p.pink_target = k.levels.pink;
    p.stable_target = k.levels.stable_target;
    p.surface_depth = k.levels.surface;
    p.cured = m.together(kind, &Times::cured);
    p.lasting = m.together(kind, &Times::lasting);
    p.salted = m.together(kind, &Times::salted);
    p.last_good = m.together(kind, &Times::last_good);
    p.cured_error = m.cured_error(kind);
    if (p.last_good)
        p.last_good_reason = "the mean salt passes " + percent(taste.high);
    p.start = m.fine->start(kind);
    for (std::size_t s = 0; s < k.stages.size(); ++s)
        p.stages.push_back(stage_result(m, kind, s, s > 0 ? p.stages.back().to : 0, at));
    state_at(p, m, kind, at);
    const double end[] = {std::min(at, m.coarse->end()), std::min(at, m.fine->end())};
    p.salt_error =
        std::abs(m.fine->grid(kind).mean_salt(end[1]) - m.coarse->grid(kind).mean_salt(end[0])) *
        k.setup().tissues.at("lean").water_fraction /
        (m.parting() < k.stages.size() ? 1 : 3); // not of the same end
    return p;
}

/// Whole days, about six of them, to the day reported.
std::vector<double> brine_times(double at) {
    const double step = std::max(1.0, std::ceil(at / day / 6)) * day;
    std::vector<double> times;
    for (double t = 0; t < at - step / 4; t += step)
        times.push_back(t);
    times.push_back(at);
    return times;
}

BrineState brine_at(const Meshes& m, double t, double mass) {
    const Pickle& p = m.c.first().pickle;
    if (t == 0)
        return {p.salt, p.nitrite, mass};
    const auto strength = [&](Sides chain) { // [kg per kg water of the brine]
        return m.both(m.fine->still_in(t),
                      [&](const Grid& g) { return (g.*chain).empty() ? 0.0 : (g.*chain).bath(t); });
    };
    return bath_state(p, mass * p.water, strength(&Grid::salt_chain),
                      strength(&Grid::nitrite_chain));
}

} // namespace

const PieceOutcome& Outcome::slowest() const {
    return *std::ranges::max_element(
        pieces, [](const PieceOutcome& a, const PieceOutcome& b) { return a.sooner(b); });
}

double Outcome::horizon() const {
    return question.stages.back().open() ? question.stages.back().most : at;
}

void read_off(Outcome& o, const Meshes& m, const materials::Band& taste) {
    const bool open = m.question.stages.back().open();
    const Track& fine = *m.fine;
    if (!open) {
        const double from = fine.end();
        o.at = m.parting() < m.c.stages().size() ? from : extrapolated(m.coarse->end(), from);
        o.at = std::min(o.at, from); // to which the fine one was solved
    } else if (o.question.base.at) {
        o.at = *o.question.base.at;
    } else {
        o.at = 0;
        for (std::size_t k = 0; k < m.c.kinds.size(); ++k)
            o.at = std::max(o.at,
                            m.together(k, &Times::cured).value_or(m.question.stages.back().most));
    }
    std::vector<PieceOutcome> kinds;
    for (std::size_t k = 0; k < m.c.kinds.size(); ++k)
        kinds.push_back(piece_outcome(m, k, o.at, taste));
    for (std::size_t k = 0; k < m.c.of.size(); ++k) {
        PieceOutcome p = kinds[m.c.of[k]];
        p.piece = piece_of(m.question, k);
        p.name = name_of(k + 1, p.piece, m.c.kinds[m.c.of[k]].setup());
        o.pieces.push_back(std::move(p));
    }
    if (open && m.c.stages().back().stage.kind == Does::cover)
        for (const double t : brine_times(o.at))
            o.brine.push_back({t, brine_at(m, t, m.c.first().pickle.mass)});
    o.has_nitrite = m.c.nitrite;
    o.meat = m.c.meat;
    o.mass_balance_error = fine.mass_balance_error();
    o.time_error = fine.tank().time_error();
    o.cells = fine.tank().nodes();
}

} // namespace tidemark::cure
