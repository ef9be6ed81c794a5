// SPDX-License-Identifier: MIT
/// Phrases between commas; the first names the kind, each of the others begins with its own word or
/// is a time or an amount.
#include "cli/stages.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "base/units.hpp"
#include "cli/values.hpp"
#include "geometry/shapes.hpp"

#include <boost/algorithm/string.hpp>

#include <cctype>
#include <functional>
#include <map>
#include <set>

namespace tidemark::cli {
namespace {

using base::InputError;
using cure::Stage;
using enum base::Dimension;
using Kind = Stage::Kind;

constexpr std::size_t longest_log = 4000 * base::kilobyte; ///< two months, two readings a minute

const std::map<std::string, Kind> kinds{{"brine", Kind::cover}, {"fresh brine", Kind::cover},
                                        {"rub", Kind::rub},     {"dry rub", Kind::rub},
                                        {"bag", Kind::bag},     {"soak", Kind::soak},
                                        {"rest", Kind::rest}};

double within(const Given& given, const std::string& text, base::Dimension dimension,
              const char* low, const char* high, const char* remedy = slip) {
    const double value = base::parse(text, dimension, given.where);
    check({text, given.where}, value, dimension, low, high, remedy);
    return value;
}

cure::Until until(const Given& given, const std::string& text) {
    using What = cure::Until::What;
    const auto space = text.find(' ');
    const std::string word = text.substr(0, space);
    const std::string value = space == std::string::npos ? "" : base::trim(text.substr(space));
    if (word == "cured" || word == "lasting") {
        const What what = word == "cured" ? What::cured : What::lasting;
        const std::string too = "and mean ";
        if (value.empty())
            return {what, 0};
        if (value.starts_with(too))
            return {what,
                    within(given, base::trim(value.substr(too.size())), fraction, "0.1 %", "20 %")};
    }
    if (value.empty() && (word == "mean" || word == "surface" || word == "even"))
        throw InputError(given.where, "until " + word, "has no value behind it",
                         "add it, such as until " + word + " 3 %");
    if (word == "mean" || word == "surface")
        return {word == "mean" ? What::mean_salt : What::surface_salt,
                within(given, value, fraction, "0.1 %", "20 %")};
    if (word == "even")
        return {What::even, within(given, value, fraction, "1 %", "200 %")};
    throw InputError(given.where, base::trim("until " + text),
                     "is not something a stage can wait for",
                     "use until cured, lasting, mean 2 %, surface 3 % or even 20 %");
}

class Reader {
public:
    Reader(const Given& given, const StageContext& context) : given_(given), context_(context) {}

    Stage read() {
        std::vector<std::string> phrases;
        boost::split(phrases, given_.text, boost::is_any_of(","));
        const std::string kind = boost::to_lower_copy(base::trim(phrases[0]));
        const auto found = kinds.find(kind);
        if (found == kinds.end()) {
            for (const auto& [name, k] : kinds)
                if (kind.starts_with(name + ' '))
                    throw InputError(given_.where, kind, "has no comma behind its kind",
                                     "write " + name + ", and then the rest");
            std::vector<std::string> names;
            for (const auto& [name, k] : kinds)
                names.push_back(name);
            const std::string near = base::nearest(kind, names);
            throw InputError(given_.where, kind, "is not a kind of stage",
                             near.empty() ? "use one of " + boost::join(names, ", ")
                                          : "did you mean " + near + "?");
        }
        stage_.kind = found->second;
        stage_.fresh = kind == "fresh brine";
        stage_.where = given_.where + " (" + kind + ")";
        for (std::size_t k = 1; k < phrases.size(); ++k) {
            const std::string &before = phrases[k - 1], &next = phrases[k];
            if (!before.empty() && !next.empty() &&
                std::isdigit(static_cast<unsigned char>(before.back())) &&
                std::isdigit(static_cast<unsigned char>(next.front())))
                throw InputError(given_.where, base::trim(before) + ',' + next,
                                 "has a decimal comma", "write a point, as in 29.3 g/kg");
        }
        for (std::size_t k = 1; k < phrases.size(); ++k)
            phrase(base::trim(phrases[k]));
        finish();
        return stage_;
    }

private:
    bool dry() const { return stage_.kind == Kind::rub || stage_.kind == Kind::bag; }

    [[noreturn]] void misplaced(const std::string& text, const char* rule,
                                const char* remedy) const {
        throw InputError(given_.where, text, rule, remedy);
    }

    void phrase(const std::string& text) {
        const auto space = text.find(' ');
        const std::string word = text.substr(0, space);
        const std::string rest = space == std::string::npos ? "" : base::trim(text.substr(space));
        const bool cover = stage_.kind == Kind::cover, soak = stage_.kind == Kind::soak;
        const bool amount = base::showable(word).find_first_of("0123456789.+-") == 0;
        static const std::set<std::string> takers{"at",     "log",     "sealed", "most",   "salt",
                                                  "premix", "nitrite", "purge",  "changes"};
        if (text.empty()) {
            misplaced(given_.text, "has an empty phrase", "write one comma between phrases");
        } else if (rest.empty() && takers.contains(word)) {
            misplaced(text, "has nothing behind it", "tidemark plan --help lists the phrases");
        } else if (!amount && !words_.insert(word).second) {
            misplaced(text, "is a second phrase of its kind", "keep one");
        } else if (word == "until") {
            stage_.until = until(given_, rest);
        } else if (word == "at") {
            stage_.temperature = within(given_, rest, temperature, "0 C", "15 C",
                                        "meat must be kept cold: give the cooler's temperature");
        } else if (word == "log") {
            stage_.log = std::make_shared<cure::CoolerLog>(
                cure::cooler_log_from_csv(base::read_text(rest, given_.where, longest_log), rest));
        } else if (word == "sealed") {
            std::vector<std::string> faces;
            boost::split(faces, rest, boost::is_any_of(" "), boost::token_compress_on);
            std::vector<std::string> known = geometry::face_names();
            known.emplace_back("ends");
            for (const std::string& face : faces)
                stage_.sealed.push_back(Values::one_of({face, given_.where}, face, known));
        } else if (word == "most") {
            stage_.most = within(given_, rest, duration, "1 h", "1000 d");
        } else if (word == "salt" && dry()) {
            stage_.salt += load(rest);
        } else if (word == "premix" && dry()) {
            const double premix = load(rest);
            stage_.premix = premix;
            stage_.nitrite += premix * context_.premix_strength;
            stage_.nitrate += premix * context_.premix_nitrate;
            stage_.salt += premix * (1 - context_.premix_strength - context_.premix_nitrate);
        } else if (word == "nitrite" && dry()) {
            stage_.nitrite += within(given_, rest, fraction, "0 ppm", "2000 ppm",
                                     "more is dangerous: give mg of sodium nitrite per kg of meat");
        } else if (word == "purge" && dry()) {
            stage_.purge = within(given_, rest, fraction, "0 %", "20 %");
        } else if (word == "salt" && cover) {
            brine().salt = within(given_, rest, fraction, "0 %", "26 %");
        } else if (word == "nitrite" && cover) {
            brine().nitrite =
                within(given_, rest, fraction, "0 ppm", "5000 ppm", "more is dangerous");
        } else if (word == "changes" && soak) {
            const double n = within(given_, rest, number, "0", "50");
            if (n != static_cast<int>(n))
                misplaced(rest, "is not a whole number", "round it");
            stage_.changes = static_cast<int>(n);
        } else if (amount) {
            quantity(text);
        } else {
            misplaced(text, "is not a phrase of this kind of stage",
                      "tidemark plan --help lists them");
        }
    }

    /// Per kg of meat, or per piece as a mass.
    double load(const std::string& text) const {
        const auto q = base::parse_either(text, fraction, mass, given_.where);
        if (q.dimension == fraction) {
            check({text, given_.where}, q.si, fraction, "0 g/kg", "300 g/kg", slip);
            return q.si;
        }
        if (!(context_.weight > 0))
            misplaced(text, "is a load for a piece of unknown weight",
                      "add --weight, or give g/kg");
        check({text, given_.where}, q.si / context_.weight, fraction, "0 g/kg", "300 g/kg", slip);
        return q.si / context_.weight;
    }

    /// Water of a soak, amount of a new brine, or how long.
    void quantity(const std::string& text) {
        const std::string typed = base::showable(text);
        const base::Unit* unit =
            base::find_unit(typed.substr(typed.find_last_of("0123456789.+- ") + 1), duration);
        if (!unit || unit->dimension == duration || unit->dimension == number) {
            if (stage_.duration)
                misplaced(text, "is a second duration", "keep one");
            stage_.duration = within(given_, text, duration, "1 min", "1000 d");
            return;
        }
        const auto q = base::parse_either(text, mass, volume, given_.where);
        check({text, given_.where}, q.si, q.dimension, q.dimension == mass ? "0.1 g" : "0.1 mL",
              q.dimension == mass ? "10000 kg" : "10000 L", slip);
        if (stage_.water > 0 || (stage_.brine && (stage_.brine->mass || stage_.brine->volume)))
            misplaced(text, "is a second amount", "keep one");
        stage_.amount = text;
        if (stage_.kind == Kind::soak) {
            stage_.water = q.dimension == mass ? q.si : 1000 * q.si;
        } else if (stage_.kind == Kind::cover) {
            (q.dimension == mass ? brine().mass : brine().volume) = q.si;
        } else {
            misplaced(text, "is an amount of a liquid this stage does not have", "leave it out");
        }
    }

    cure::Brine& brine() {
        if (!stage_.brine) {
            stage_.brine.emplace();
            stage_.brine->where = given_.where;
        }
        return *stage_.brine;
    }

    void finish() {
        if (words_.contains("nitrite")) // then the premix alone does not say it all
            stage_.premix = 0;
        if (!stage_.duration && !stage_.until)
            misplaced(given_.text, "has no end", "add how long, such as 7 d, or until cured");
        if (stage_.changes > 0 && !stage_.duration)
            misplaced(given_.text, "has changes of water but no duration",
                      "add how long, such as 3 h");
        if (stage_.log && stage_.temperature)
            misplaced(given_.text, "has a temperature and a log", "keep one");
        if (stage_.brine && !stage_.brine->salt)
            misplaced(given_.text, "is a brine of its own without its strength", "add salt 5 %");
        if (dry() && !(stage_.salt > 0))
            misplaced(given_.text, "has no salt in it", "add the load, such as salt 30 g/kg");
        if (stage_.nitrite > 2000e-6)
            misplaced(given_.text, "puts more than 2000 ppm of nitrite on the meat",
                      "weigh the premix again: 2.5 g/kg");
    }

    const Given& given_;
    const StageContext& context_;
    Stage stage_;
    std::set<std::string> words_; ///< met so far
};

} // namespace

Stage stage_from_text(const Given& given, const StageContext& context) {
    return Reader(given, context).read();
}

const char* const stage_help =
    "A stage is a kind and its phrases with commas between:\n"
    "  brine           the brine given, or the one the stage before left\n"
    "  fresh brine     the same, made fresh; or of its own: salt 4 %, nitrite 100 ppm, 6 L\n"
    "  rub             dry, drip drained: salt 30 g/kg, premix 2.5 g/kg, purge 3 %\n"
    "  bag             dry, drip kept with the meat\n"
    "  soak            fresh water: 6 L, changes 2 (running water without an amount)\n"
    "  rest            nothing touches it\n"
    "and for every kind: 7 d | until cured | until cured and mean 1.8 % | until lasting\n"
    "  | until mean 2 % | until surface 3 % | until even 20 %: (largest - smallest) / mean;\n"
    "  most 60 d; at 3 C; log FILE (time,temperature [C]);\n"
    "  sealed bottom ends: faces kept from the brine while it lasts.\n";

} // namespace tidemark::cli
