// SPDX-License-Identifier: MIT
/// The cells of every piece are joined in one bath on two meshes; what is read off is extrapolated
/// from both, as for a single piece.
#include "cure/bucket.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "cure/advice.hpp"
#include "cure/bucket_advice.hpp"
#include "cure/say.hpp"
#include "cure/two_meshes.hpp"
#include "materials/colour.hpp"
#include "materials/meat.hpp"
#include "materials/targets.hpp"
#include "transport/join.hpp"
#include "transport/prism.hpp"
#include "transport/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::cure {

namespace {

constexpr double day = 86400;
/// Of the time integration, as for a single piece.
constexpr double time_tolerance = 1e-6;
/// In all pieces together: some 3 GB, by the 2.6 kB a cell that 200 pieces took.
constexpr int most_cells = 1'000'000;

/// All pieces on one mesh each, and the bath they share.
class Pot {
public:
    Pot(const std::vector<Setup>& setups, const std::vector<double>& units,
        std::vector<std::unique_ptr<Grid>> cells)
        : grids(std::move(cells)), setups_(setups), units_(units) {}

    void solve(double first, double last, bool has_nitrite) {
        salt_ = begin(false, nullptr, first, last);
        if (has_nitrite)
            begin(true, salt_.get(), first, last);
    }

    std::vector<std::unique_ptr<Grid>> grids;
    double mass_balance_error = 0;

private:
    std::shared_ptr<const transport::Spectrum> begin(bool nitrite, const transport::Spectrum* donor,
                                                     double first, double last) {
        std::vector<transport::Whole> wholes;
        std::vector<std::shared_ptr<const transport::Reduction>> reduced(grids.size());
        std::vector<transport::Part> parts;
        for (std::size_t k = 0; k < grids.size(); ++k) {
            const Setup& s = setups_[k];
            wholes.push_back(grids[k]->assemble(
                s, nitrite, {nitrite ? s.nitrite_bath : s.salt_bath, {}, false, first, last}));
            if (wholes[k].along.planes() > 1) {
                const transport::Reduction* space = nitrite ? reduced_[k].get() : nullptr;
                reduced[k] = std::make_shared<const transport::Reduction>(wholes[k], first, last,
                                                                          time_tolerance, space);
            }
            parts.push_back({reduced[k] ? reduced[k]->system : wholes[k].system, units_[k]});
        }
        const transport::Joined joined = transport::join(parts);
        const auto whole = donor
                               ? std::make_shared<const transport::Spectrum>(joined.system, *donor)
                               : std::make_shared<const transport::Spectrum>(joined.system, first,
                                                                             last, time_tolerance);
        for (const double share : {0.1, 1.0})
            mass_balance_error =
                std::max(mass_balance_error,
                         transport::mass_balance_error(joined.system, *whole, share * last));
        for (std::size_t k = 0; k < grids.size(); ++k) {
            std::shared_ptr<const transport::History> part = std::make_shared<transport::Spectrum>(
                *whole, parts[k].system, joined.unknowns[k].front());
            if (reduced[k])
                part = std::make_shared<transport::Prism>(reduced[k], std::move(part));
            const Tissue& lean = setups_[k].tissues.at("lean");
            transport::Chain& chain = nitrite ? grids[k]->nitrite_chain : grids[k]->salt_chain;
            chain.begin(0, std::move(wholes[k].system), std::move(part),
                        nitrite ? lean.nitrite.loss : lean.salt.loss);
        }
        reduced_ = std::move(reduced);
        return whole;
    }

    const std::vector<Setup>& setups_;
    const std::vector<double>& units_;
    std::vector<std::shared_ptr<const transport::Reduction>> reduced_; ///< of the salt
    std::shared_ptr<const transport::Spectrum> salt_;
};

/// Both meshes of all pieces.
struct Meshes {
    Pot coarse, fine;
};

/// What a piece is judged by.
struct Judged {
    Event cured, too_salty;
    std::vector<Event*> all() { return {&cured, &too_salty}; }
};

Judged judged(const Setup& setup, BucketPiece& piece, bool nitrite, base::Records& records) {
    const Tissue& lean = setup.tissues.at("lean");
    const double w = lean.water_fraction;
    piece.target =
        nitrite
            ? materials::pink_threshold(records, materials::myoglobin(records, piece.piece.muscle))
            : materials::salt_floor(records);
    const Level core = [nitrite](const Grid& g, double t) { return g.lowest(t, nitrite).value; };
    const Level salt = [](const Grid& g, double t) { return g.mean_salt(t); };
    return {{core, nitrite ? piece.target / w : lean.concentration(piece.target), nitrite},
            {salt, lean.concentration(materials::taste_band(records).high)}};
}

void window(BucketPiece& piece, const Judged& j, double time_error, base::Records& records) {
    piece.pull = j.cured.time;
    if (piece.pull)
        piece.pull_error = j.cured.error + time_error * *piece.pull;
    if (j.too_salty.time) {
        piece.last_good = j.too_salty.time;
        piece.last_good_reason =
            "the mean salt passes " + percent(materials::taste_band(records).high);
    }
}

void state_at(BucketPiece& piece, const Setup& setup, const Grid& coarse, const Grid& fine,
              double t, bool nitrite) {
    const Tissue& lean = setup.tissues.at("lean");
    const double w = lean.water_fraction;
    const geometry::Lowest low = fine.lowest(t, nitrite);
    const auto both = [&](const Level& level) {
        return extrapolated(level(coarse, t), level(fine, t));
    };
    const double core = extrapolated(coarse.lowest(t, nitrite).value, low.value);
    piece.depth = fine.depth(low.at);
    piece.mean_salt = lean.salt_share(both([](const Grid& g, double s) { return g.mean_salt(s); }));
    piece.mean_arrived = w * both([](const Grid& g, double s) { return g.mean_arrived(s); });
    piece.core_arrived = nitrite ? w * core : 0;
    const double salt =
        nitrite ? both([&](const Grid& g, double s) { return g.value_at(g.salt(s), low.at); })
                : core;
    piece.core_salt = lean.salt_share(salt);
    piece.core_water_salt = salt / (1 + salt);
}

BrineState brine_at(const Pickle& pickle, const Meshes& m, double t) {
    if (t == 0)
        return {pickle.salt, pickle.nitrite, pickle.mass};
    const auto strength = [&](transport::Chain Grid::*chain) { // [kg per kg water of the brine]
        const auto on = [&](const Pot& pot) {
            return (*pot.grids.front().*chain).empty() ? 0 : (*pot.grids.front().*chain).bath(t);
        };
        return extrapolated(on(m.coarse), on(m.fine));
    };
    const double salt = strength(&Grid::salt_chain), nitrite = strength(&Grid::nitrite_chain);
    const double all = (1 - pickle.salt - pickle.nitrite) / pickle.water + salt + nitrite;
    return {salt / all, nitrite / all, pickle.mass * pickle.water * all};
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

std::string name_of(std::size_t number, const Piece& piece, const Setup& setup) {
    std::string muscle = piece.muscle;
    std::ranges::replace(muscle, '-', ' ');
    return "piece " + std::to_string(number) + " (" + muscle + ", " +
           base::significant(2000 * setup.half_thickness, 3) + " mm)";
}

base::InputError too_many(std::size_t pieces, std::size_t fit) {
    const std::string most = std::to_string(fit);
    return {"--with", std::to_string(pieces) + " pieces",
            "are too many to be solved together; the first " + most + " would fit",
            "give at most " + most +
                " pieces that differ, write equal ones once with pieces = N, or use fewer --cells"};
}

} // namespace

Kinds kinds_of(const Case& first, const std::vector<OtherPiece>& others, base::Records& records) {
    std::vector<Piece> pieces{first.piece};
    for (const OtherPiece& other : others)
        pieces.push_back(other.piece);
    Kinds kinds;
    std::vector<Piece> alike; // one of each kind
    std::vector<int> count;   // and how many
    for (std::size_t k = 0; k < pieces.size(); ++k) {
        const int n = std::exchange(pieces[k].pieces, 1);
        const auto same =
            static_cast<std::size_t>(std::ranges::find(alike, pieces[k]) - alike.begin());
        if (same == alike.size()) {
            alike.push_back(pieces[k]);
            count.push_back(0);
            kinds.first.push_back(k);
        }
        count[same] += n;
        kinds.of.push_back(same);
    }
    for (std::size_t i = 0; i < alike.size(); ++i)
        try {
            Case question = first;
            question.piece = alike[i];
            question.piece.pieces = count[i];
            kinds.setups.push_back(make_piece(question, records));
            put_in_brine(question, records, kinds.setups.back());
            kinds.units.push_back(kinds.setups.back().units * count[i]);
        } catch (const base::InputError& error) {
            if (i == 0)
                throw;
            throw base::InputError(others[kinds.first[i] - 1].file, "", error.what(), "");
        }
    for (std::size_t i = 0; i < alike.size(); ++i)
        kinds.meat += kinds.setups[i].weight * count[i];
    if (std::ranges::any_of(kinds.setups, [](const Setup& s) { return !(s.weight > 0); }))
        kinds.meat = 0;
    for (Setup& s : kinds.setups)
        for (transport::Bath* bath : {&s.salt_bath, &s.nitrite_bath})
            bath->water /= static_cast<double>(kinds.setups.size());
    return kinds;
}

Bucket predict_bucket(const Case& first, const std::vector<OtherPiece>& others,
                      base::Records records, const Progress& progress) {
    const auto report = [&](double done, const char* step) {
        if (progress)
            progress(done, step);
    };
    report(0, "cells");
    const Kinds kinds = kinds_of(first, others, records);
    const std::vector<Setup>& setups = kinds.setups;
    const auto piece_of = [&](std::size_t k) -> const Piece& {
        return k == 0 ? first.piece : others[k - 1].piece;
    };
    const Pickle& pickle = setups.front().pickle;
    for (std::size_t k = 0; k < setups.size(); ++k)
        check_shared_out(pickle.mass, setups[k].weight,
                         (k == 0 ? "" : others[kinds.first[k] - 1].file + ": ") + "--brine");
    Bucket b;
    b.temperature = first.temperature;
    const bool nitrite = b.has_nitrite = pickle.nitrite > 0;
    std::vector<BucketPiece> answers; // of each kind
    std::vector<std::unique_ptr<Grid>> coarse, fine;
    std::vector<Judged> all;
    double soon = first.horizon;
    for (std::size_t k = 0; k < setups.size(); ++k) {
        const Setup& s = setups[k];
        BucketPiece p;
        p.piece = piece_of(kinds.first[k]);
        p.weight = s.weight;
        soon = std::min(soon, first_of_interest(s, first.horizon));
        coarse.push_back(coarse_grid(s, first.cells));
        fine.push_back(halved(s, *coarse.back()));
        b.cells += static_cast<int>(fine.back()->nodes());
        if (k > 0 && b.cells > most_cells)
            throw too_many(kinds.of.size(), kinds.first[k]);
        all.push_back(judged(s, p, nitrite, records));
        answers.push_back(std::move(p));
    }
    b.meat = kinds.meat;

    Meshes m{{setups, kinds.units, std::move(coarse)}, {setups, kinds.units, std::move(fine)}};
    report(0.1, "search");
    m.coarse.solve(soon, first.horizon, nitrite);
    double from = first.horizon, to = 0;
    for (std::size_t k = 0; k < all.size(); ++k)
        for (Event* e : all[k].all()) {
            e->search(*m.coarse.grids[k], soon, first.horizon);
            from = std::min(from, std::max(e->coarse.value_or(from), soon));
            to = std::max(to, e->coarse.value_or(0));
        }
    const bool complete =
        std::ranges::all_of(all, [](const Judged& j) { return j.cured.coarse.has_value(); });
    report(0.3, "fine cells");
    m.fine.solve(from / 6, complete ? std::min(1.25 * to, first.horizon) : first.horizon, nitrite);
    report(0.8, "reading off");
    b.time_error = m.fine.grids.front()->time_error();
    for (std::size_t k = 0; k < all.size(); ++k) {
        for (Event* e : all[k].all())
            e->refine(*m.fine.grids[k]);
        window(answers[k], all[k], b.time_error, records);
    }

    const auto later = [](const BucketPiece& a, const BucketPiece& c) {
        return a.pull && (!c.pull || *a.pull < *c.pull);
    };
    b.all_cured = std::ranges::max_element(answers, later)->pull;
    b.at = b.all_cured.value_or(first.horizon);
    for (std::size_t k = 0; k < all.size(); ++k) {
        state_at(answers[k], setups[k], *m.coarse.grids[k], *m.fine.grids[k], b.at, nitrite);
        answers[k].thiele =
            answers[k].depth * std::sqrt(setups[k].tissues.at("lean").nitrite.loss /
                                         setups[k].tissues.at("lean").nitrite.diffusivity);
    }
    for (std::size_t k = 0; k < kinds.of.size(); ++k) {
        BucketPiece p = answers[kinds.of[k]];
        p.piece = piece_of(k);
        p.name = name_of(k + 1, p.piece, setups[kinds.of[k]]);
        b.pieces.push_back(std::move(p));
    }
    b.slowest =
        static_cast<std::size_t>(std::ranges::max_element(b.pieces, later) - b.pieces.begin());
    for (const double t : brine_times(b.at))
        b.brine.push_back({t, brine_at(pickle, m, t)});
    b.mass_balance_error = m.fine.mass_balance_error;
    advise(b, first, pickle, records);
    for (std::size_t k = 0; k < kinds.of.size(); ++k)
        if (const std::string text = ends_left_out(setups[kinds.of[k]]); !text.empty())
            b.findings.note(b.pieces[k].name + ": " + text);
    b.parameters = records.used();
    report(1, "done");
    return b;
}

} // namespace tidemark::cure
