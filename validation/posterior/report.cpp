// SPDX-License-Identifier: MIT
#include "posterior/report.hpp"

#include "base/embedded.hpp"
#include "base/error.hpp"
#include "base/file.hpp"
#include "base/record.hpp"
#include "base/text.hpp"

#include <boost/format.hpp>

#include <cmath>

namespace tidemark::posterior {
namespace {

using Eigen::Index;

constexpr double low = 0.05, high = 0.95;
constexpr const char* mark_on_page = "<!-- below: build/posterior . --write -->\n";

/// How a shared number stands in models/: the record its shift is a factor on, and all it moves.
struct Moved {
    const char *anchor, *moves, *title, *note;
};
constexpr Moved moved[shared_numbers] = {
    {"muscle.pork-loin.diffusivity",
     "muscle.pork-*.diffusivity muscle.turkey-*.diffusivity muscle.chicken-*.diffusivity",
     "How fast salt moves in pork", "At 4 C in a brine of about 4 %."},
    {"muscle.beef-round.diffusivity",
     "muscle.beef-*.diffusivity muscle.lamb-*.diffusivity muscle.venison-*.diffusivity "
     "muscle.duck-*.diffusivity",
     "How fast salt moves in beef", "As for pork."},
    {"", "", "Change of that speed with the salt, per kg of salt per kg of water",
     "The middle is too near nothing to be used: diffusion.salt-slope sets one. The sd widens what "
     "is said of strong brines."},
    {"solute.nitrite.diffusivity-ratio", "solute.nitrite.diffusivity-ratio",
     "Nitrite's speed over the salt's", "Nearly a constant of nature."},
    {"kinetics.half-life", "kinetics.half-life", "Half-life of nitrite in raw lean",
     "Without ascorbate; with it no source speaks."},
    {"adipose.water-volume", "adipose.water-volume", "Water of fat in a cure",
     "With the spread of what fat lets through, adipose.diffusivity, on top."},
    {"colour.eye", "colour.eye", "Where the eye sees cured, between first pink and lasting colour",
     "The sd is of the whole way. No source speaks of it: it stays where it was put."}};

std::string fixed(double value, int digits) {
    const std::string text = (boost::format("%." + std::to_string(digits) + "f") % value).str();
    return text.find_first_not_of("-0.") == std::string::npos && text.front() == '-'
               ? text.substr(1)
               : text;
}

/// The library before anything was weighed.
base::Records before() {
    base::Records records;
    for (const base::Embedded& model : base::embedded_models()) {
        if (model.name != "posterior.ini") {
            records.read(model.text, std::string(model.name));
        }
    }
    return records;
}

bool is_log(int j) {
    return j != salt_slope && j != eye;
}

} // namespace

Report::Report(const std::string& validation)
    : priors_(validation + "/posterior/priors.ini"), evidence_(read_evidence(validation)),
      weigher_(priors_.prior, sources(evidence_, priors_)), all_(weigher_.weigh()),
      date_(read_words(validation + "/posterior/priors.ini").at("made").at("date")) {
    score();
}

void Report::score() {
    const std::vector<Source> compared = sources(evidence_, priors_, true);
    const auto line = [](const std::string& source, const std::string& figure, bool log,
                         double seen, double a, double half, double b, const char* verdict) {
        const auto show = [&](double x) {
            return log ? base::significant(std::exp(x), 3) : fixed(x, 2);
        };
        return "| " + source + " | " + figure + " | " + show(seen) + " | " + show(half) + " | " +
               show(a) + " to " + show(b) + " | " + verdict + " |\n";
    };
    for (std::size_t s = 0; s < weigher_.sources().size(); ++s) {
        const Weighed others = weigher_.weigh(s);
        const Source& source = weigher_.sources()[s];
        for (Index k = 0; k < source.value.size(); ++k) {
            const auto name = static_cast<std::size_t>(k);
            const double below = weigher_.below(others, s, k, source.value[k]);
            const bool in = below >= low && (below <= high || source.at_most[name]);
            ++kept_out_;
            inside_ += in;
            const auto at = [&](double q) { return weigher_.quantile(others, s, k, q); };
            const bool log = source.figures[name] != "slope";
            const auto own = [&](double x) { return log ? std::exp(x) : x; };
            kept_.push_back({source.name, source.figures[name], log, own(source.value[k]),
                             own(at(low)), own(at(0.5)), own(at(high)), in});
            card_ += line(source.name, source.figures[name], log, source.value[k], at(low), at(0.5),
                          at(high),
                          in            ? "inside"
                          : below < low ? "**below**"
                                        : "**above**");
        }
    }
    for (const Source& source : compared) { // by the middle alone
        const Eigen::VectorXd middle = source.predict(all_.mean);
        for (Index k = 0; k < source.value.size(); ++k) {
            card_ += "| " + source.name + " | " + source.figures[static_cast<std::size_t>(k)] +
                     " | " + base::significant(std::exp(source.value[k]), 3) + " | " +
                     base::significant(std::exp(middle[k]), 3) + " | | compared |\n";
        }
    }
}

std::string Report::records() const {
    const base::Records own = before();
    std::string text =
        "; SPDX-License-Identifier: MIT\n"
        "; Made by build/posterior . --write on " +
        date_ +
        ": not to be written by hand.\n"
        "; The shared numbers as all that is published leaves them "
        "(validation/posterior). `shift` is\n"
        "; the logarithm of the factor by which the middles of the records named in "
        "`moves` are moved\n"
        "; when the program reads them; `sd` is how far it may still be off, for all "
        "meat alike.\n"
        "; Sources:";
    for (const Source& s : weigher_.sources()) {
        text += ' ' + s.name;
    }
    text += ".\n; Worth " + fixed(std::round(all_.effective / 100) * 100, 0) + " of " +
            std::to_string(weigher_.draws().rows()) + " draws.\n";
    for (int j = 0; j < shared_numbers; ++j) {
        double shift = all_.mean[j];
        if (j == eye) {
            shift = std::log((priors_.middle[eye] + shift) / own.find(moved[j].anchor)->value);
        } else if (is_log(j)) {
            shift += std::log(priors_.middle[j] * (j <= beef_speed ? 1e-10 : 1) /
                              own.find(moved[j].anchor)->value);
        }
        text +=
            std::string("\n[posterior.") + names[j] + "]\nshift = " + fixed(shift, 3) +
            "\nsd = " + fixed(std::sqrt(all_.covariance(j, j)), 3) + "\ntitle = " + moved[j].title +
            "\nunit = 1\n" +
            (*moved[j].moves ? std::string("moves = ") + moved[j].moves + '\n' : "") +
            "source = tidemark\nwhere = validation/posterior\nmark = C\nnote = " + moved[j].note +
            '\n';
    }
    text += "\n[posterior.correlation]\n";
    for (int i = 0; i < shared_numbers; ++i) {
        for (int j = i + 1; j < shared_numbers; ++j) {
            const double r =
                all_.covariance(i, j) / std::sqrt(all_.covariance(i, i) * all_.covariance(j, j));
            if (std::abs(r) >= 0.05) {
                text += std::string(names[i]) + '_' + names[j] + " = " + fixed(r, 2) + '\n';
            }
        }
    }
    return text + "title = Correlation of two shared numbers; those not named have none\nunit = 1\n"
                  "source = tidemark\nwhere = validation/posterior\nmark = C\n"
                  "note = Of the logarithms, as the sd.\n";
}

std::string Report::page() const {
    std::string text = "## The shared numbers\n\n"
                       "| number | before: middle, sd | after: middle, sd |\n|---|---|---|\n";
    const auto both = [&](int j, double shift, double sd) {
        const double m = priors_.middle[j];
        return (is_log(j) ? base::significant(m * std::exp(shift), 3) : fixed(m + shift, 2)) +
               ", " + fixed(sd, 2);
    };
    for (int j = 0; j < shared_numbers; ++j) {
        text += std::string("| ") + names[j] + " | " + both(j, 0, priors_.prior.sd[j]) + " | " +
                both(j, all_.mean[j], std::sqrt(all_.covariance(j, j))) + " |\n";
    }
    text += "\nUnits as in `priors.ini`; the sd is of the logarithm, but for salt-slope and eye.\n"
            "\n## Kept out\n\n" +
            std::to_string(inside_) + " of " + std::to_string(kept_out_) +
            " figures lie inside the central 90 % of what the other sources predict" +
            (inside_ * 5 >= kept_out_ * 4 ? ": the rule is met.\n\n"
                                          : ": **the rule is not met**.\n\n") +
            "| source | figure | printed | predicted | 90 % | |\n|---|---|---|---|---|---|\n" +
            card_;
    return text + "\nDiffusivities in 1e-10 m2/s as measured. The days of rules are those printed "
                  "over 1.35, "
                  "for nine in\nten are right by them.\n";
}

void put_on_page(const std::string& file, const std::string& tables) {
    constexpr std::size_t longest = 1 << 20;
    std::string text = base::read_text(file, file, longest);
    const auto at = text.find(mark_on_page);
    if (at == std::string::npos) {
        throw base::RunError(file + " has no line " + mark_on_page);
    }
    base::write_file(file, text.substr(0, at) + mark_on_page + '\n' + tables);
}

} // namespace tidemark::posterior
