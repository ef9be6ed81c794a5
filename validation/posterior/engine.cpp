// SPDX-License-Identifier: MIT
#include "posterior/engine.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/outcome.hpp"
#include "cure/picture.hpp"
#include "cure/setup.hpp"
#include "cure/two_meshes.hpp"
#include "inference/chebyshev.hpp"
#include "materials/diffusion.hpp"
#include "materials/meat.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>

namespace tidemark::posterior {

using base::Dimension;
using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

const char* const names[shared_numbers] = {"pork-speed", "beef-speed", "salt-slope", "ratio",
                                           "half-life",  "fat-water",  "eye"};

namespace {

constexpr double day = 86400, reach = 2.6; ///< reach: of an axis, in standard deviations
constexpr double cells = 10;
constexpr double dry = 0.035; ///< under a rub: about 0.06 in the meat, less the weak brine's 0.025
constexpr double horizon = 2000; ///< [d]

double number(const std::string& text) {
    return base::parse(text, Dimension::number, "priors.ini");
}

/// A case with what the print leaves open.
struct Setting {
    cure::Question question;
    double days = 0;
    bool nitrate = false;                            ///< a diffusivity of nitrate
    VectorXd shift = VectorXd::Zero(shared_numbers); ///< of this lot of meat, beside the shared

    bool beef() const { return question.base.piece.muscle.starts_with("beef"); }
    Shared speed() const { return beef() ? beef_speed : pork_speed; }
    double salt() const { return question.base.brine.salt.value_or(0); }
};

Setting setting_of(const Figure& f) {
    Setting s;
    cure::Case& c = s.question.base;
    cure::Stage stage;
    stage.where = f.name;
    c.cells = cells;
    c.horizon = stage.most = horizon * day;
    double rest = 0;
    for (const auto& [name, text] : f.of) {
        const auto value = [&, &t = text, &n = name](Dimension d) { return base::parse(t, d, n); };
        geometry::Dimensions& d = c.piece.dimensions;
        if (name == "muscle") {
            c.piece.muscle = text;
        } else if (name == "shape") {
            c.piece.shape = text;
        } else if (name == "thickness") {
            d.thickness = value(Dimension::length);
        } else if (name == "width") {
            d.width = value(Dimension::length);
        } else if (name == "fat-cap") {
            d.fat_cap = value(Dimension::length);
        } else if (name == "weight") {
            c.piece.weight = value(Dimension::mass);
        } else if (name == "seal") {
            boost::split(d.sealed, text, boost::is_any_of(", "), boost::token_compress_on);
            const auto ends = std::erase(d.sealed, "ends");
            c.piece.shut_ends = ends > 0 ? 2 : 0;
        } else if (name == "brine") {
            c.brine.mass = value(Dimension::mass);
        } else if (name == "brine-salt") {
            c.brine.salt = value(Dimension::fraction);
        } else if (name == "brine-nitrite") {
            c.brine.nitrite = value(Dimension::fraction);
        } else if (name == "cooler") {
            c.temperature = value(Dimension::temperature);
        } else if (name == "rub") {
            stage.kind = cure::Stage::Kind::rub;
            stage.salt = value(Dimension::fraction);
        } else if (name == "day") {
            s.days = value(Dimension::duration) / day;
        } else if (name == "rest") {
            rest = value(Dimension::duration) / day;
        } else if (name == "solute" && text == "nitrate") {
            s.nitrate = true;
        } else {
            throw base::InputError(f.name, name, "is no word of a case",
                                   "see validation/posterior");
        }
    }
    if (stage.dry()) {
        c.brine.salt = 0.10; // of no stage, but every case has one
    }
    s.question.stages = {stage};
    if (rest > 0) {
        s.question.stages.front().duration = s.days * day;
        cure::Stage after;
        after.where = f.name;
        after.kind = cure::Stage::Kind::rest;
        after.duration = rest * day;
        s.question.stages.push_back(after);
    } else if (s.days > 0) {
        c.at = s.days * day;
    }
    return s;
}

/// The setting with one thing that the print leaves open moved by its standard deviation.
Setting moved(Setting s, const std::string& what, double by) {
    cure::Case& c = s.question.base;
    geometry::Dimensions& d = c.piece.dimensions;
    const double factor = std::exp(by);
    if (what == "thickness") {
        d.thickness *= factor;
        d.width *= factor;
        d.fat_cap *= factor;
    } else if (what == "fat-cap") {
        d.fat_cap *= factor;
    } else if (what == "day") {
        s.days *= factor;
        if (c.at) {
            *c.at *= factor;
        }
        for (cure::Stage& stage : s.question.stages) {
            if (stage.duration) {
                *stage.duration *= factor;
            }
        }
    } else if (what == "cooler") {
        c.temperature += by;
    } else if (what == "brine-salt") {
        *c.brine.salt *= factor;
    } else if (what == "brine") {
        *c.brine.mass *= factor;
    } else if (what == "speed") {
        s.shift[s.speed()] += by;
    } else if (what == "half-life") {
        s.shift[half_life] += by;
    } else if (what == "fat-water") {
        s.shift[fat_water] += by;
    } else {
        throw base::InputError("[unsure]", what, "is nothing that can be unsure",
                               "see validation/posterior");
    }
    return s;
}

/// A predicted figure, of a case that several figures of a source share.
class Engine {
public:
    explicit Engine(const Priors& priors) : priors_(priors) {}

    /// Middles of the figures [logarithms, or a slope] for shared numbers in full.
    VectorXd operator()(Setting s, const std::vector<const Figure*>& figures,
                        VectorXd shared) const {
        shared += s.shift;
        base::Records records = base::Records::built_in();
        cure::Case& c = s.question.base;
        const auto set = [&](const std::string& key, double value, const char* unit) {
            c.overrides.push_back({key, base::significant(value, 12) + unit, "the posterior"});
        };
        const double beyond =
            s.question.stages.front().dry() ? dry : materials::beyond_weak_brine(s.salt());
        const double speed = 1e-10 * priors_.middle[s.speed()] *
                             std::exp(shared[s.speed()] + shared[salt_slope] * beyond);
        const std::string& muscle = c.piece.muscle;
        set("muscle." + muscle + ".diffusivity", speed, " m2/s");
        set("solute.nitrite.diffusivity-ratio", priors_.middle[ratio] * std::exp(shared[ratio]),
            "");
        set("kinetics.half-life", priors_.middle[half_life] * std::exp(shared[half_life]), " d");
        set("adipose.water-volume",
            std::min(0.9, priors_.middle[fat_water] * std::exp(shared[fat_water])), "");
        VectorXd y(static_cast<Index>(figures.size()));
        std::optional<cure::Outcome> run;
        for (std::size_t k = 0; k < figures.size(); ++k) {
            y[static_cast<Index>(k)] = figure(figures[k]->kind, s, shared, records, run);
        }
        return y;
    }

private:
    double figure(const std::string& kind, const Setting& s, const VectorXd& shared,
                  const base::Records& built_in, std::optional<cure::Outcome>& run) const {
        const cure::Case& c = s.question.base;
        if (kind == "slope") {
            return shared[salt_slope];
        }
        if (kind == "diffusivity") {
            base::Records records = built_in;
            for (const auto& o : c.overrides) {
                records.set(o.key, o.text, o.where);
            }
            return std::log(
                1e10 * (s.nitrate ? materials::nitrite_diffusivity : materials::salt_diffusivity)(
                           records, c.piece.muscle, c.temperature));
        }
        if (kind == "fat-over-lean" || kind == "fat-water") {
            base::Records records = built_in;
            const cure::Setup setup = cure::make_setup(c, records);
            const double fat = setup.tissues.at("fat").water_fraction;
            return std::log(kind == "fat-water" ? fat
                                                : fat / setup.tissues.at("lean").water_fraction);
        }
        if (!run) {
            run = cure::run(s.question, built_in);
        }
        if (kind == "cured-day") {
            return std::log(run->first().cured.value_or(horizon * day) / day);
        }
        if (kind.starts_with("slice-")) {
            const std::array<double, 4> salt = slices(s, *run);
            const auto k = static_cast<std::size_t>(kind.back() - 'a');
            return std::log(k == 0 ? 100 * salt[0] : salt[k] / salt[0]);
        }
        const double brine = *c.brine.nitrite / *c.brine.salt;
        if (kind == "nitrite-per-salt") {
            const cure::Reading& end = run->first().stages.back().end;
            const cure::Tissue& lean = run->solved->setup().tissues.at("lean");
            return std::log(end.mean_residual / lean.water_fraction /
                            lean.concentration(end.mean_salt) / brine);
        }
        if (kind == "nitrite-at-most") { // at a wet face
            const cure::BrineState& left = run->first().stages.back().bath_end;
            const cure::Tissue& lean = run->solved->setup().tissues.at("lean");
            base::Records records = built_in;
            return std::log(1e6 * left.nitrite / (1 - left.salt) *
                            records.si("solute.nitrite.partition") * lean.water_fraction);
        }
        throw base::InputError("evidence.ini", kind, "is no kind of figure",
                               "see validation/posterior");
    }

    /// Salt [kg/kg] of three equal slices of lean from the wet face in, and of the fat behind.
    static std::array<double, 4> slices(const Setting& s, const cure::Outcome& o) {
        const double fat = s.question.base.piece.dimensions.fat_cap,
                     slice = (s.question.base.piece.dimensions.thickness - fat) / 3;
        std::array<double, 4> salt{}, width{};
        const std::vector<cure::Sample> line = cure::profiles(o, {s.days * day});
        for (std::size_t k = 1; k < line.size(); ++k) {
            const double from = line[k - 1].depth, to = line[k].depth, middle = (from + to) / 2;
            if (to <= from) {
                continue;
            }
            const std::size_t i =
                middle < fat ? 3
                             : 2 - std::min<std::size_t>(
                                       2, static_cast<std::size_t>((middle - fat) / slice));
            // The first sample of the lean stands on the fat's edge and is no part of the fat.
            const double between = line[k - 1].kind != line[k].kind
                                       ? line[k - 1].salt
                                       : (line[k - 1].salt + line[k].salt) / 2;
            salt[i] += (to - from) * between;
            width[i] += to - from;
        }
        for (std::size_t i = 0; i < salt.size(); ++i) {
            salt[i] /= width[i];
        }
        return salt;
    }

    const Priors& priors_;
};

/// Figures of one case as a surface in the shared numbers it depends on. The salt's slope goes
/// along with the speed, whose axis is long enough for both.
class Surface {
public:
    Surface(const Engine& engine, const Setting& s, const std::vector<const Figure*>& figures,
            const Priors& priors)
        : speed_(s.speed()),
          beyond_(s.question.stages.front().dry() ? dry : materials::beyond_weak_brine(s.salt())) {
        const std::string& kind = figures.front()->kind;
        exact_ = kind == "diffusivity" || kind == "slope";
        const auto axis = [&](Shared of, int nodes) {
            const double more = of == speed_ ? beyond_ * priors.prior.sd[salt_slope] : 0;
            const double half = reach * std::hypot(priors.prior.sd[of], more);
            axes_.push_back({of, {-half, half, nodes}});
        };
        if (exact_) { // straight in all of them
            middle_ = engine(s, figures, VectorXd::Zero(shared_numbers));
            slopes_.resize(middle_.size(), shared_numbers);
            for (int j = 0; j < shared_numbers; ++j) {
                slopes_.col(j) = engine(s, figures, VectorXd::Unit(shared_numbers, j)) - middle_;
            }
            return;
        }
        if (kind.starts_with("fat-")) {
            axis(fat_water, 4);
        } else {
            axis(speed_, 5);
            if (s.question.base.brine.nitrite) {
                axis(ratio, 2);
                axis(half_life, 3);
            } else if (s.question.base.piece.dimensions.fat_cap > 0 && kind != "cured-day") {
                axis(fat_water, 3);
            }
        }
        Index count = 1;
        for (const Axis& a : axes_) {
            count *= a.axis.nodes();
        }
        table_.resize(count, static_cast<Index>(figures.size()));
        for (Index i = 0; i < count; ++i) {
            VectorXd shared = VectorXd::Zero(shared_numbers);
            Index rest = i;
            for (const Axis& a : axes_) {
                shared[a.of] = a.axis.at(static_cast<int>(rest % a.axis.nodes()));
                rest /= a.axis.nodes();
            }
            table_.row(i) = engine(s, figures, shared).transpose();
        }
    }

    VectorXd operator()(const VectorXd& shared) const {
        if (exact_) {
            return middle_ + slopes_ * shared;
        }
        VectorXd weights = VectorXd::Ones(1);
        for (const Axis& a : axes_) {
            const double x = shared[a.of] + (a.of == speed_ ? shared[salt_slope] * beyond_ : 0);
            const VectorXd own = a.axis.weights(std::clamp(x, a.axis.low, a.axis.high));
            const MatrixXd all = weights * own.transpose();
            weights = Eigen::Map<const VectorXd>(all.data(), all.size());
        }
        return table_.transpose() * weights;
    }

private:
    struct Axis {
        Shared of;
        inference::ChebyshevAxis axis;
    };
    Shared speed_;
    double beyond_;
    bool exact_ = false;
    std::vector<Axis> axes_;
    MatrixXd table_, slopes_;
    VectorXd middle_;
};

/// Figures that share a case.
struct Group {
    Words of;
    std::vector<const Figure*> figures;
    std::shared_ptr<const Surface> surface;
};

std::vector<Group> groups_of(const Evidence& e, bool compared) {
    std::vector<Group> groups;
    for (const Figure& f : e.figures) {
        if (f.compared != compared) {
            continue;
        }
        const bool alone = !f.kind.starts_with("slice-");
        const auto same = std::ranges::find(groups, f.of, &Group::of);
        if (alone || same == groups.end()) {
            groups.push_back({f.of, {&f}, nullptr});
        } else {
            same->figures.push_back(&f);
        }
    }
    return groups;
}

} // namespace

Priors::Priors(const std::string& path) {
    auto words = read_words(path);
    prior.mean = VectorXd::Zero(shared_numbers);
    prior.sd = middle = prior.mean;
    for (int j = 0; j < shared_numbers; ++j) {
        const Words& own = words.at(names[j]);
        prior.names.emplace_back(names[j]);
        middle[j] = number(own.at("middle"));
        prior.sd[j] = number(own.at("sd"));
    }
    const Words& spread = words.at("spread");
    laboratory = number(spread.at("laboratory"));
    rule = number(spread.at("rule"));
    rules = number(spread.at("rules"));
    above = number(spread.at("above"));
}

std::vector<Source> sources(const std::vector<Evidence>& evidence, const Priors& priors,
                            bool compared) {
    const Engine engine(priors);
    std::vector<Source> all;
    for (const Evidence& e : evidence) {
        std::vector<Group> groups = groups_of(e, compared);
        Source source;
        source.name = e.folder;
        std::vector<double> value, sd;
        MatrixXd open(0, static_cast<Index>(e.unsure.size())); // figure x what is unsure
        for (Group& g : groups) {
            const Setting s = setting_of(*g.figures.front());
            g.surface = std::make_shared<const Surface>(engine, s, g.figures, priors);
            const VectorXd zero = VectorXd::Zero(shared_numbers), at = engine(s, g.figures, zero);
            const Index first = open.rows();
            open.conservativeResize(first + at.size(), open.cols());
            Index column = 0;
            for (const auto& [what, by] : e.unsure) {
                open.col(column++).tail(at.size()) =
                    engine(moved(s, what, by), g.figures, zero) - at;
            }
            for (const Figure* f : g.figures) {
                source.figures.push_back(f->name);
                source.at_most.push_back(f->kind == "nitrite-at-most");
                const bool speed = f->kind == "diffusivity";
                sd.push_back(std::hypot(f->sd, speed ? priors.laboratory : 0));
                value.push_back(f->kind == "slope"
                                    ? f->value
                                    : std::log(f->value) - (e.rules ? priors.above : 0));
            }
        }
        if (groups.empty()) {
            continue;
        }
        const auto count = static_cast<Index>(value.size());
        source.value = Eigen::Map<const VectorXd>(value.data(), count);
        source.covariance = open * open.transpose();
        source.covariance.diagonal() += Eigen::Map<const VectorXd>(sd.data(), count).cwiseAbs2();
        if (e.rules) {
            source.covariance.array() += priors.rules * priors.rules;
            source.covariance.diagonal().array() += priors.rule * priors.rule;
        }
        source.predict = [groups](const VectorXd& shared) {
            VectorXd y(0);
            for (const Group& g : groups) {
                const VectorXd own = (*g.surface)(shared);
                y.conservativeResize(y.size() + own.size());
                y.tail(own.size()) = own;
            }
            return y;
        };
        all.push_back(std::move(source));
    }
    return all;
}

} // namespace tidemark::posterior
