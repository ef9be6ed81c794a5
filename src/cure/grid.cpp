// SPDX-License-Identifier: MIT
#include "cure/grid.hpp"

#include "transport/superposed.hpp"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace tidemark::cure {

namespace {

/// The same contact with nothing touching the piece.
Grid::Contact shut(Grid::Contact contact) {
    transport::Bath nothing;
    nothing.partition = contact.bath.partition;
    contact.bath = nothing;
    contact.closed = true;
    return contact;
}

} // namespace

transport::Clock from_here(const transport::Clock& clock, double from) {
    const auto moved = [from](const std::function<double(double)>& f) {
        return [f, from, before = f(from)](double t) { return f(from + t) - before; };
    };
    return {moved(clock.diffusion), moved(clock.loss)};
}

Grid::Grid(const Setup& setup, geometry::Mesh m)
    : mesh(std::move(m)), salt_chain({}, {}), nitrite_chain({}, {}), section_(setup.section) {
    prepare(setup);
}

Grid::Grid(const Setup& setup, geometry::Line l)
    : line(std::move(l)), salt_chain({}, {}), nitrite_chain({}, {}) {
    prepare(setup);
}

void Grid::prepare(const Setup& setup) {
    lean = static_cast<int>(std::find(kinds().begin(), kinds().end(), "lean") - kinds().begin());
    const Tissue& tissue = setup.tissues.at("lean");
    to_end_ = setup.to_end();
    if (std::isfinite(to_end_))
        along_ = transport::along(to_end_, setup.half_thickness / std::sqrt(tissue.salt.along),
                                  2 - setup.shut_ends);
    else if (setup.whole)
        along_ = transport::one_plane(setup.length);
    diffusivity_[0] = tissue.salt.diffusivity * tissue.salt.along;
    diffusivity_[1] = tissue.nitrite.diffusivity * tissue.nitrite.along;
    const auto of_kinds = mesh ? transport::region_water(*mesh, media(setup, false))
                               : transport::region_water(*line, media(setup, false));
    lean_water = along_.length() * of_kinds[lean];
    water = Eigen::VectorXd::Zero(nodes());
    for (const Eigen::VectorXd& w : of_kinds)
        water += along_.length() * w;
    lowest_ = mesh ? std::make_unique<geometry::LowestPoint>(*mesh, lean)
                   : std::make_unique<geometry::LowestPoint>(*line, lean);
    const Eigen::VectorXd none = Eigen::VectorXd::Zero(nodes());
    fill(none, none);
}

Eigen::VectorXd Grid::on_planes(const Eigen::VectorXd& nodal) const {
    return nodal.replicate(along_.planes(), 1);
}

Eigen::VectorXd Grid::shared_out(const Eigen::VectorXd& weights) const {
    return (weights * along_.weight.transpose() / along_.length()).reshaped();
}

void Grid::fill(const Eigen::VectorXd& salt, const Eigen::VectorXd& nitrite) {
    const Eigen::VectorXd mean = shared_out(lean_water / lean_water.sum());
    salt_chain = transport::Chain(on_planes(salt), mean, nodes());
    nitrite_chain = transport::Chain(on_planes(nitrite), mean, nodes());
}

std::vector<transport::Medium> Grid::media(const Setup& setup, bool nitrite) const {
    std::vector<transport::Medium> media;
    for (const std::string& kind : kinds()) {
        const Tissue& tissue = setup.tissues.at(kind);
        media.push_back(nitrite ? tissue.nitrite : tissue.salt);
    }
    return media;
}

template <class Use> auto Grid::open(const Contact& contact, const Use& use) const {
    if (mesh) {
        if (contact.closed) {
            geometry::Mesh shut = *mesh;
            shut.wet.assign(shut.wet.size(), false);
            for (geometry::Curve& curve : shut.curves)
                curve.wet = false;
            return use(shut);
        }
        std::vector<std::string> faces = contact.sealed;
        std::erase(faces, "ends");
        return faces.empty() ? use(*mesh)
                             : use(geometry::with_sealed(*mesh, *section_, faces, "--stage"));
    }
    geometry::Line shut = *line;
    const auto is_open = [&](const char* face) {
        return !contact.closed && std::ranges::find(contact.sealed, face) == contact.sealed.end();
    };
    shut.wet_last = line->wet_last && is_open("top");
    shut.wet_first = line->wet_first && is_open("bottom");
    return use(shut);
}

transport::System Grid::section(const Setup& setup, bool nitrite, const Contact& contact) const {
    return open(contact, [&](const auto& cells) {
        return transport::assemble(cells, media(setup, nitrite), contact.bath);
    });
}

transport::Draw Grid::draw(const Setup& setup, bool nitrite, const Contact& contact) const {
    const auto tissues = media(setup, nitrite);
    return transport::draw(
        open(contact, [&](const auto& cells) { return transport::draw(cells, tissues); }),
        section(setup, nitrite, contact), tissues, along_, end_pull(setup, nitrite, contact) > 0);
}

double Grid::end_pull(const Setup& setup, bool nitrite, const Contact& contact) const {
    if (contact.closed || along_.planes() == 1 ||
        std::ranges::find(contact.sealed, "ends") != contact.sealed.end())
        return 0;
    const Tissue& tissue = setup.tissues.at("lean");
    const transport::Medium& m = nitrite ? tissue.nitrite : tissue.salt;
    const transport::Bath& bath = contact.bath;
    return bath.film * bath.water_density / bath.partition / (m.water * m.diffusivity * m.along);
}

transport::Whole Grid::assemble(const Setup& setup, bool nitrite, const Contact& contact,
                                std::optional<transport::System>* like) const {
    transport::System one = like && *like ? **like : section(setup, nitrite, contact);
    if (like && *like) {
        const Tissue& tissue = setup.tissues.at("lean"); // one loss serves all tissues
        transport::change_bath(one, (nitrite ? tissue.nitrite : tissue.salt).loss, contact.bath);
    } else if (like) {
        *like = one;
    }
    const Eigen::VectorXd flow = transport::lengthwise(one, media(setup, nitrite));
    return transport::extrude(std::move(one), flow, along_, end_pull(setup, nitrite, contact),
                              contact.bath.concentration);
}

transport::Law Grid::law_of(const Setup& setup, bool nitrite, double from,
                            const transport::System& system) const {
    if (!setup.follows_salt())
        return {};
    transport::Law law;
    if (setup.salt_slope != 0)
        law.diffusion = [slope = setup.salt_slope](double, const Eigen::VectorXd& salt) {
            constexpr double least = 0.05; // diffusion.salt-slope
            return (1 + slope * salt.array()).cwiseMax(least).matrix().eval();
        };
    if (!nitrite)
        return law;
    const double all = setup.salt_with_ascorbate;
    if (setup.bare_loss < 1 && all > 0)
        law.loss = [bare = setup.bare_loss, all](double, const Eigen::VectorXd& salt) {
            Eigen::VectorXd share =
                bare + (1 - bare) * (salt.array() / all).cwiseMin(1).cwiseMax(0);
            share[share.size() - 1] = 1; // in the bath it is from the first
            return share;
        };
    // Not its own field but the salt's, whose stages are solved before it.
    for (transport::Law::Factors* f : {&law.diffusion, &law.loss})
        if (*f)
            *f = [=, this, of_salt = std::move(*f), unknown = system.unknown,
                  count = system.capacity.size()](double t, const Eigen::VectorXd&) {
                const Eigen::VectorXd nodal = salt_chain.free_everywhere(from + t);
                Eigen::VectorXd salt = Eigen::VectorXd::Zero(count);
                for (std::size_t i = 0; i < unknown.size(); ++i)
                    salt[unknown[i]] = nodal[static_cast<Eigen::Index>(i)];
                return of_salt(t, salt);
            };
    return law;
}

void Grid::begin(bool nitrite, double from, const Setup& setup, const Contact& contact) {
    transport::Chain& chain = nitrite ? nitrite_chain : salt_chain;
    transport::Whole whole = assemble(setup, nitrite, contact);
    const bool start = chain.empty();
    Eigen::VectorXd nodal = chain.before(from);
    double given = 0;
    if (contact.coat.size() > 0) {
        given = contact.coat.sum();
        const Eigen::VectorXd held = transport::node_water(whole.system);
        for (Eigen::Index i = 0; i < nodal.size(); ++i)
            if (contact.coat[i] > 0)
                nodal[i] += contact.coat[i] / held[i];
    }
    // One loss serves all tissues (setup.cpp), so free and reacted add up node by node.
    const Tissue& tissue = setup.tissues.at("lean");
    const double loss = nitrite ? tissue.nitrite.loss : tissue.salt.loss;
    const transport::History* const donor = nitrite && start && !salt_chain.empty()
                                                ? salt_chain.links().front().history.get()
                                                : nullptr;
    const auto solved = [&](const transport::Whole& w) {
        const transport::Law law = law_of(setup, nitrite, from, w.system);
        if (!setup.clock && !law)
            return transport::solve(w, contact.first, contact.last, setup.tolerance, donor);
        return transport::solve(w, from_here(setup.clock.value_or(transport::Clock()), from),
                                contact.first, contact.last, setup.tolerance, step_tolerance, law);
    };
    std::shared_ptr<const transport::History> history;
    if (contact.gives && nodal.cwiseAbs().maxCoeff() > 0) {
        given = film(nitrite, from, setup, contact).at_once;
        transport::start_from(whole.system, Eigen::VectorXd::Zero(nodal.size()),
                              contact.bath.concentration);
        const auto source = solved(whole);
        const std::vector<int> of_source = whole.system.unknown;
        whole = assemble(setup, nitrite, shut(contact));
        std::vector<int> places(static_cast<std::size_t>(whole.system.bath()));
        for (std::size_t i = 0; i < of_source.size(); ++i)
            places[static_cast<std::size_t>(whole.system.unknown[i])] = of_source[i];
        transport::start_from(whole.system, nodal, 0);
        history = std::make_shared<transport::Superposed>(solved(whole), source, places);
    } else {
        transport::start_from(whole.system, nodal, contact.bath.concentration);
        history = solved(whole);
    }
    chain.begin(from, std::move(whole.system), std::move(history), loss, given);
}

Eigen::VectorXd Grid::arrived(double t) const {
    return nitrite_chain.arrived(t);
}

Eigen::VectorXd Grid::residual(double t) const {
    return nitrite_chain.free(t);
}

Eigen::VectorXd Grid::salt(double t) const {
    return salt_chain.free(t);
}

geometry::Lowest Grid::lowest(double t, bool nitrite) const {
    return lowest(nitrite ? arrived(t) : salt(t));
}

geometry::Lowest Grid::lowest(const Eigen::VectorXd& nodal) const {
    geometry::Lowest low = (*lowest_)(nodal);
    low.value = std::max(low.value, 0.0); // a fit across a jump may fall below what there can be
    return low;
}

std::pair<double, double> Grid::salt_extremes(double t) const {
    const Eigen::VectorXd all = salt_chain.free_everywhere(t);
    double least = std::numeric_limits<double>::infinity(), most = 0;
    for (Eigen::Index i = 0; i < all.size(); ++i)
        if (lean_water[i % nodes()] > 0) {
            least = std::min(least, all[i]);
            most = std::max(most, all[i]);
        }
    return {least, most};
}

double Grid::along_error(double t, bool nitrite) const {
    if (along_.planes() == 1)
        return 0;
    const transport::Chain& chain = nitrite ? nitrite_chain : salt_chain;
    return chain.free(t).maxCoeff() * transport::along_error(along_, diffusivity_[nitrite] * t);
}

double Grid::mean_salt(double t) const {
    return salt_chain.mean(t).first;
}

double Grid::mean_arrived(double t) const {
    return nitrite_chain.mean(t).second;
}

double Grid::mean_residual(double t) const {
    return nitrite_chain.mean(t).first;
}

double Grid::mass_balance_error(double t) const {
    return std::max(salt_chain.mass_balance_error(t),
                    nitrite_chain.empty() ? 0.0 : nitrite_chain.mass_balance_error(t));
}

double Grid::time_error() const {
    return std::max(salt_chain.time_error(), nitrite_chain.time_error());
}

double Grid::depth(const geometry::Point& p) const {
    if (line) {
        double depth = std::min(line->nodes.back(), to_end_);
        if (line->wet_last)
            depth = std::min(depth, line->nodes.back() - p.x());
        return line->wet_first ? std::min(depth, p.x()) : depth;
    }
    double depth = to_end_;
    for (const geometry::Curve& c : mesh->curves)
        for (std::size_t i = 1; c.wet && i < c.points.size(); ++i)
            depth = std::min(depth, geometry::distance(p, c.points[i - 1], c.points[i]));
    return depth;
}

double Grid::value_at(const Eigen::VectorXd& nodal, const geometry::Point& p) const {
    if (line) {
        const auto& x = line->nodes;
        const auto it = std::upper_bound(x.begin(), x.end(), p.x());
        const auto i = std::clamp<std::ptrdiff_t>(it - x.begin(), 1,
                                                  static_cast<std::ptrdiff_t>(x.size()) - 1);
        const double f = (p.x() - x[i - 1]) / (x[i] - x[i - 1]);
        return (1 - f) * nodal[i - 1] + f * nodal[i];
    }
    const auto in = geometry::spot(*mesh, p);
    if (!in)
        return nodal.minCoeff();
    const auto& [k, w] = *in;
    return w[0] * nodal[k[0]] + w[1] * nodal[k[1]] + w[2] * nodal[k[2]];
}

double first_of_interest(const Setup& setup, double span) {
    const double a = std::min(setup.half_thickness, setup.to_end()),
                 D = setup.tissues.at("lean").salt.diffusivity;
    return std::min(0.01 * a * a / D, span / 50);
}

std::unique_ptr<Grid> coarse_grid(const Setup& s, double cells, bool uneven) {
    const transport::Medium& lean = s.tissues.at("lean").salt;
    const bool slanting =
        lean.ratio != 1 && std::abs(std::remainder(lean.angle, std::numbers::pi / 2)) > 1e-9;
    if (s.section)
        return std::make_unique<Grid>(
            s, geometry::triangulate(*s.section, 2 * s.half_thickness / cells, uneven || slanting));
    return std::make_unique<Grid>(s,
                                  geometry::line(s.layers, static_cast<int>(std::lround(4 * cells)),
                                                 s.power, s.wet_first, s.wet_last));
}

std::unique_ptr<Grid> halved(const Setup& setup, const Grid& coarse) {
    return coarse.mesh ? std::make_unique<Grid>(setup, geometry::refine(*coarse.mesh))
                       : std::make_unique<Grid>(setup, geometry::refine(*coarse.line));
}

double crossing(const std::function<double(double)>& level, double target, double from, double to) {
    std::uintmax_t iterations = 60;
    const auto bracket = boost::math::tools::toms748_solve(
        [&](double s) { return level(s) - target; }, from, to,
        [](double a, double b) { return std::abs(b - a) <= 1e-9 * std::abs(b); }, iterations);
    return 0.5 * (bracket.first + bracket.second);
}

std::optional<double> first_time(const std::function<double(double)>& level, double target,
                                 double first, double last) {
    double before = 0;
    const double ratio = std::pow(last / first, 1.0 / 24);
    for (double t = first; before < last; t = std::min(t * ratio, last)) {
        if (level(t) >= target) {
            if (before == 0 && level(0) >= target)
                return 0.0; // what stands at the face is above it at once
            return crossing(level, target, before, t);
        }
        before = t;
    }
    return std::nullopt;
}

} // namespace tidemark::cure
