// SPDX-License-Identifier: MIT
#include "inference/causes.hpp"

#include "base/error.hpp"
#include "cure/two_meshes.hpp"
#include "inference/inputs.hpp"
#include "inference/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

namespace tidemark::inference {
namespace {

using Eigen::VectorXd;

/// Spare uniforms behind those of the inputs, for how far a cause goes.
constexpr Eigen::Index spare = 2;

/// Sets by how much a draw departs from what was told.
using Change = std::function<void(VectorXd& values, const VectorXd& spare_uniforms)>;

/// A number of a cause with its spread, at a uniform.
double amount(const base::Records& records, const std::string& key, double u) {
    const base::Record& r = *records.find(key);
    return r.spread.starts_with("sd ") ? r.si() + shift_spread(r.spread).at(u)
                                       : r.si() * factor_spread(r.spread, r.value).at(u);
}

/// Every input that a cause changes must be there, be it as good as certain.
Inputs complete(Inputs inputs, const Distribution& ph) {
    using enum Distribution::Kind;
    const auto want = [&](const char* name, const Distribution& spread) {
        if (inputs.column(name) < 0) {
            inputs.add({name, name, spread});
        }
    };
    want("diffusivity", {lognormal, 1, 1 + 1e-9});
    want("thickness", {normal, 1, 1e-9});
    want("cooler", {normal, 0, 1e-9});
    want("salt", {lognormal, 1, 1 + 1e-9});
    want("premix", {lognormal, 1, 1 + 1e-9});
    want("ph", ph);
    return inputs;
}

Change change_of(const std::string& name, const Inputs& inputs, const base::Records& records) {
    const auto number = [&records](const std::string& key, double u) {
        return amount(records, "cause." + key, u);
    };
    const auto column = [&inputs](const char* input) { return inputs.column(input); };
    if (name == "thicker") {
        return [=, k = column("thickness")](VectorXd& v, const VectorXd& u) {
            v[k] *= number("thicker.factor", u[0]);
        };
    }
    if (name == "colder") {
        const double frozen = records.find("cause.colder.part-frozen")->si();
        return [=, k = column("cooler"), speed = column("diffusivity"),
                loss = column("loss")](VectorXd& v, const VectorXd& u) {
            v[k] += number("colder.shift", u[0]);
            if (u[1] < frozen) {
                const double thawed = number("colder.frozen", u[1] / frozen);
                v[speed] *= thawed;
                if (loss >= 0) {
                    v[loss] *= thawed;
                }
            }
        };
    }
    if (name == "weak-brine") {
        return
            [=, salt = column("salt"), premix = column("premix")](VectorXd& v, const VectorXd& u) {
                const double f = number("weak-brine.factor", u[0]);
                v[salt] *= f;
                v[premix] *= f;
            };
    }
    if (name == "little-premix") {
        return [=, k = column("premix")](VectorXd& v, const VectorXd& u) {
            v[k] *= number("little-premix.factor", u[0]);
        };
    }
    if (name == "fast-loss") {
        return [=, k = column("loss")](VectorXd& v, const VectorXd& u) {
            v[k] *= number("fast-loss.factor", u[0]);
        };
    }
    if (name == "dark-meat") { // loss is slower at a higher pH, and so is diffusion in such meat
        return
            [=, k = column("ph"), speed = column("diffusivity")](VectorXd& v, const VectorXd& u) {
                v[k] += number("dark-meat.shift", u[0]);
                v[speed] *= number("dark-meat.speed", u[1]);
            };
    }
    return [](VectorXd&, const VectorXd&) {};
}

/// The case with a face shut or with fat; none where the cause changes no geometry.
std::optional<cure::Case> other_case(const std::string& name, cure::Case c,
                                     const base::Records& records) {
    geometry::Dimensions& d = c.piece.dimensions;
    if (name.ends_with("-shut")) {
        d.sealed.push_back(name.substr(0, name.find('-')));
        return c;
    }
    if (name == "fat") {
        d.fat_cap = d.thickness * records.find("cause.fat.share")->si();
        return c;
    }
    return {};
}

/// Whether the case can have the cause at all.
bool possible(const std::string& name, const cure::Case& c, const Inputs& inputs) {
    const cure::Piece& p = c.piece;
    const auto& shut = p.dimensions.sealed;
    if (name.ends_with("-shut")) {
        const std::string face = name.substr(0, name.find('-'));
        const bool sheet = p.shape == "sheet", side = face == "left" || face == "right";
        return p.shape != "ball" && !(sheet && (side || !shut.empty())) && shut.size() < 3 &&
               std::ranges::count(shut, face) == 0;
    }
    if (name == "fat") {
        return p.shape != "ball" && p.shape != "outline" && p.dimensions.fat_cap == 0;
    }
    return name != "fast-loss" || inputs.column("loss") >= 0;
}

} // namespace

const std::vector<CauseText>& cause_texts() {
    using enum Look;
    const auto by = [](Look look, const char* more = "") { return text_of(look).how + more; };
    static const std::vector<CauseText> texts{
        {"as-told", "", "leave the next one in for longer; nothing else need change", {}},
        {"thicker", "the piece was thicker than measured", by(thickness), thickness},
        {"colder", "the cooler was colder than told, or froze the piece in part", by(cooler),
         cooler},
        {"weak-brine", "the brine was weaker than told, or had been used before",
         by(brine_salt, "; less salt on the tongue points here"), brine_salt},
        {"little-premix", "there was less nitrite than told: too little premix, or an old one",
         by(brine_nitrite,
            ", or weigh a spoon of the premix and read its date; salty but grey points here"),
         brine_nitrite},
        {"fast-loss", "the nitrite was used up on its way, faster than it could move in",
         by(core_salt, "; more than slow meat has points here, or to the premix"), core_salt},
        {"dark-meat", "the meat is dark and firm (high pH), and lets the cure in slowly",
         by(ph, ", or compare the raw colour of other pieces"), ph},
        {"bottom-shut",
         "the bottom lay on the vessel or on another piece, and no brine got to it",
         "compare the ring under the top face with that over the bottom",
         {}},
        {"top-shut",
         "the top was out of the brine, or under another piece",
         "compare the ring under the top face with that over the bottom",
         {}},
        {"left-shut",
         "the left side lay against a wall or another piece",
         "compare the rings on the left and on the right",
         {}},
        {"right-shut",
         "the right side lay against a wall or another piece",
         "compare the rings on the left and on the right",
         {}},
        {"fat",
         "fat on top, or a bone, that was not told of held the cure back",
         "look on the slice for fat or bone between the brine and the grey",
         {}},
    };
    return texts;
}

std::vector<Suspect> suspects(const cure::Outcome& p, const base::Records& records, double time,
                              int draws, std::uint64_t seed, const cure::Progress& progress,
                              const Inputs* learnt) {
    const auto told = std::make_shared<const SliceModel>(p);
    const base::Record& ph = *records.find("muscle." + p.question.base.piece.muscle + ".ph");
    const Inputs inputs =
        complete(learnt ? *learnt : case_inputs(p.question.base, p.solved->setup(), records),
                 shift_spread(ph.spread));
    const auto columns = static_cast<Eigen::Index>(inputs.list().size());
    const Eigen::MatrixXd uniform = uniforms(draws, columns + spare, seed);
    const Eigen::MatrixXd values = inputs.values(uniform.leftCols(columns));
    const Slice unseen = {.through = true,
                          .error = records.find("uncertainty.slice")->si(),
                          .slips = records.find("uncertainty.slip")->si()};
    std::vector<Suspect> list;
    double sum = 0, done = 0;
    for (const CauseText& text : cause_texts()) {
        if (progress) {
            progress(done++ / static_cast<double>(cause_texts().size()), "what else it may be");
        }
        if (!possible(text.name, p.question.base, inputs)) {
            continue;
        }
        Suspect s{text, records.find("cause." + text.name + ".prior")->si(), {}, {}, {}, told};
        const auto other = other_case(text.name, p.question.base, records);
        const cure::Outcome own = other ? cure::run(cure::in_brine(*other), records) : p;
        if (other) {
            s.model = std::make_shared<const SliceModel>(own);
        }
        const Drawing drawing(inputs, own.question.base, own.solved->setup(), records);
        const Change change = change_of(text.name, inputs, records);
        for (Eigen::Index i = 0; i < draws; ++i) {
            VectorXd v = values.row(i);
            change(v, uniform.row(i).tail(spare).transpose());
            s.draws.push_back(drawing(v));
            s.shown.push_back((*s.model)(s.draws.back(), time));
            s.log_grey.push_back(std::log1p(-std::exp(log_likelihood(unseen, s.shown.back()))));
        }
        sum += s.prior;
        list.push_back(std::move(s));
    }
    for (Suspect& s : list) {
        s.prior /= sum;
    }
    return list;
}

} // namespace tidemark::inference
