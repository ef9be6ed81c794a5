// SPDX-License-Identifier: MIT
#include "inference/causes.hpp"

#include "base/error.hpp"
#include "cure/two_meshes.hpp"
#include "inference/sampling.hpp"
#include "inference/schedule_range.hpp"
#include "inference/schedule_slice.hpp"
#include "inference/similar.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <set>

namespace tidemark::inference {
namespace {

using Eigen::VectorXd;

/// Spare uniforms behind those of the inputs, for how far a cause goes; as many for a second one.
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
    if (name == "little-pump") {
        return [=, k = column("dose")](VectorXd& v, const VectorXd& u) {
            v[k] *= number("little-pump.factor", u[0]);
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

} // namespace

const std::vector<CauseText>& cause_texts() {
    using enum Look;
    using enum Remedy;
    const auto by = [](Look look, const char* more = "") { return text_of(look).how + more; };
    const std::string both_faces = "compare the ring under the top face with that over the bottom",
                      both_sides = "compare the rings on the left and on the right";
    static const std::vector<CauseText> texts{
        {"as-told", "all as told", "", "leave the next one in for longer", {}, longer},
        {"thicker", "a thicker piece", "the piece was thicker than measured", by(thickness),
         thickness, longer, "--thickness"},
        {"colder", "a colder cooler", "the cooler was colder than told, or froze the piece in part",
         by(cooler), cooler, longer, "--cooler"},
        {"weak-brine", "a weak brine", "the brine was weaker than told, or had been used before",
         by(brine_salt, "; less salt on the tongue points here"), brine_salt, brine,
         "--brine-salt"},
        {"little-premix", "little premix",
         "there was less nitrite than told: too little premix, or an old one",
         by(brine_nitrite,
            ", or weigh a spoon of the premix and read its date; salty but grey points here"),
         brine_nitrite, brine, "--brine-nitrite"},
        {"little-pump", "little from the needles",
         "less brine stayed in than told: a missed row, a blocked needle, or it ran out",
         by(mean_salt, "; weigh the next one before and after"), mean_salt, needles, "--pump"},
        {"fast-loss", "nitrite used up",
         "the nitrite was used up on its way, faster than it could move in",
         by(core_salt, "; more than slow meat has points here, or to the premix"), core_salt,
         longer},
        {"dark-meat", "dark meat", "the meat is dark and firm (high pH), and cures slowly",
         by(ph, ", or compare the raw colour of other pieces"), ph, longer},
        {"bottom-shut",
         "the bottom shut",
         "the bottom lay on the vessel or on another piece, and no brine got to it",
         both_faces,
         {},
         reach},
        {"top-shut",
         "the top shut",
         "the top was out of the brine, or under another piece",
         both_faces,
         {},
         reach},
        {"left-shut",
         "the left side shut",
         "the left side lay against a wall or another piece",
         both_sides,
         {},
         reach},
        {"right-shut",
         "the right side shut",
         "the right side lay against a wall or another piece",
         both_sides,
         {},
         reach},
        {"fat",
         "fat not mentioned",
         "fat on top, or a bone, that was not told of held the cure back",
         "look on the slice for fat or bone between the brine and the grey",
         {},
         reach,
         "--fat-cap"},
    };
    return texts;
}

/// Whether the question can have the cause at all.
bool Causes::possible(const std::string& name, const cure::Question& q) const {
    const cure::Piece& p = q.base.piece;
    const auto any = [&](const auto& is) { return std::ranges::any_of(q.stages, is); };
    const bool wet = any([](const cure::Stage& s) { return s.kind != cure::Stage::Kind::rest; });
    if ((name.ends_with("-shut") || name == "fat") && !wet) // nothing comes in by any face
        return false;
    if (name.ends_with("-shut")) {
        const std::string face = name.substr(0, name.find('-'));
        const bool sheet = p.shape == "sheet", side = face == "left" || face == "right";
        if (p.shape == "ball" || (sheet && side))
            return false;
        return !any([&](const cure::Stage& s) { // one face at least stays open in every stage
            std::set<std::string> shut(p.dimensions.sealed.begin(), p.dimensions.sealed.end());
            if (shut.contains(face))
                return true;
            shut.insert(s.sealed.begin(), s.sealed.end());
            shut.insert(face);
            return shut.size() > (sheet ? 1 : 3);
        });
    }
    if (name == "fat")
        return p.shape != "ball" && p.shape != "outline" && p.dimensions.fat_cap == 0;
    if (name == "weak-brine")
        return any([](const cure::Stage& s) { return s.kind == cure::Stage::Kind::cover; });
    if (name == "little-pump")
        return q.pump.has_value() && inputs_.column("dose") >= 0;
    return name != "fast-loss" || inputs_.column("loss") >= 0;
}

Causes::Causes(const cure::Outcome& told, const base::Records& records, double time, int draws,
               std::uint64_t seed, const cure::Progress& progress, const Inputs* learnt)
    : records_(records), set_(as_set(told.question.base, records)), time_(time),
      horizon_(std::max(told.horizon(), time)),
      inputs_(complete(
          learnt ? *learnt
                 : schedule_inputs(told, records,
                                   [&](const cure::Case& c, const cure::Setup& s) {
                                       return case_inputs(c, s, records);
                                   }),
          shift_spread(
              records.find("muscle." + told.question.base.piece.muscle + ".ph")->spread))) {
    const auto columns = static_cast<Eigen::Index>(inputs_.list().size());
    uniforms_ = uniforms(draws, columns + 2 * spare, seed);
    values_ = inputs_.values(uniforms_.leftCols(columns));
    if (!told.question.others.empty())
        throw base::InputError("--with", "", "is for tidemark bucket: a slice is of one piece",
                               "ask of that piece in its share of the brine");
    const bool brine = scales(told.question);
    cure::Question question = told.question;
    std::vector<Draw> served;
    if (brine) {
        add_brine("", told);
    } else {
        if (!told.has_nitrite)
            throw base::InputError("--stage", "",
                                   "a slice tells by its colour, and this cure has no nitrite",
                                   "add nitrite or premix, or leave the slice out");
        question = until_slice(told, time);
        horizon_ = slice_horizon(time);
        if (cure::Brine& b = question.base.brine; !in_base_brine(question) && !b.premix)
            b.nitrite = b.nitrite.value_or(100e-6); // in no stage: the draws' nitrite is relative
        base::Records own = records;
        const cure::Setup setup = cure::make_piece(question.base, own);
        const Drawing drawing(inputs_, question.base, setup, records);
        for (const CauseText& text : cause_texts())
            if (possible(text.name, question) && !other_case(text.name, question.base, set_))
                for (const Draw& d : this->draws(drawing, {text.name}))
                    served.push_back(d);
        add_schedule("", question, served);
    }
    double done = 0;
    for (const CauseText& text : cause_texts()) {
        if (progress)
            progress(done++ / static_cast<double>(cause_texts().size()), "what else it may be");
        if (!possible(text.name, question))
            continue;
        if (auto other = other_case(text.name, question.base, set_)) {
            other->cells *= 0.5; // a ring is read to millimetres
            cure::Question changed = question;
            changed.base = *other;
            if (brine)
                add_brine(text.name, cure::run(changed, records));
            else
                add_schedule(text.name, changed, served);
        }
        single_.push_back(suspect(text, {text.name}));
    }
    for (std::size_t k = 1; k < single_.size(); ++k)
        single_.front().prior -= single_[k].prior;
    if (!(single_.front().prior > 0))
        throw base::InputError("cause.*.prior", "",
                               "the shares of the causes come to 100 % of pieces or more",
                               "set smaller ones: the rest are as told");
}

void Causes::add_brine(const std::string& name, const cure::Outcome& o) {
    bodies_.emplace(name, Body{{inputs_, o.question.base, o.solved->setup(), records_},
                               std::make_shared<const SliceModel>(o)});
}

void Causes::add_schedule(const std::string& name, const cure::Question& q,
                          const std::vector<Draw>& served) {
    const int runs = name.empty() ? 64 : 24;
    base::Records own = records_;
    const cure::Setup setup = cure::make_piece(q.base, own);
    const ScheduleSlices slices = schedule_slices(q, records_, served, time_, runs);
    ring_error_ = std::max(ring_error_, slices.error);
    bodies_.emplace(name, Body{{inputs_, q.base, setup, records_},
                               std::make_shared<const SliceModel>(slices.lines, slices.fields)});
}

std::vector<Draw> Causes::draws(const Drawing& drawing,
                                const std::vector<std::string>& names) const {
    std::vector<Change> changes;
    for (const std::string& name : names)
        changes.push_back(change_of(name, inputs_, set_));
    std::vector<Draw> list;
    for (Eigen::Index i = 0; i < values_.rows(); ++i) {
        VectorXd v = values_.row(i);
        Eigen::Index from = v.size();
        for (const Change& change : changes) {
            change(v, uniforms_.row(i).segment(from, spare).transpose());
            from += spare;
        }
        list.push_back(drawing(v));
    }
    return list;
}

Suspect Causes::suspect(const CauseText& text, const std::vector<std::string>& names) const {
    Suspect s{text, 1, {}, {}, {}, {}, {}};
    std::string section;
    for (const std::string& name : names) {
        if (name != cause_texts().front().name)
            s.prior *= set_.find("cause." + name + ".prior")->si();
        if (bodies_.contains(name))
            section = name;
    }
    const Body& body = bodies_.at(section);
    s.model = body.model;
    s.draws = draws(body.drawing, names);
    const Slice unseen = with_errors({.through = true}, set_);
    for (const Draw& d : s.draws) {
        s.shown.push_back((*s.model)(d, time_));
        s.log_grey.push_back(std::log1p(-std::exp(log_likelihood(unseen, s.shown.back()))));
        s.through.push_back(s.model->through_time(d, horizon_));
    }
    return s;
}

std::vector<Suspect> Causes::pairs() const {
    std::vector<Suspect> list;
    for (std::size_t i = 1; i < single_.size(); ++i)
        for (std::size_t k = i + 1; k < single_.size(); ++k) {
            const CauseText &a = single_[i].text, &b = single_[k].text;
            if (bodies_.contains(a.name) && bodies_.contains(b.name))
                continue;
            list.push_back(suspect({a.name + '+' + b.name,
                                    a.brief + " and " + b.brief,
                                    a.title + "; and " + b.title,
                                    a.check + "; " + b.check,
                                    {},
                                    std::min(a.remedy, b.remedy)},
                                   {a.name, b.name}));
        }
    return list;
}

} // namespace tidemark::inference
