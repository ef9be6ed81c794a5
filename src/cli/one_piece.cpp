// SPDX-License-Identifier: MIT
#include "cli/one_piece.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cli/flags.hpp"
#include "cli/question_from_options.hpp"
#include "cli/values.hpp"
#include "cure/setup.hpp"

#include <algorithm>
#include <vector>

namespace tidemark::cli {
namespace {

using base::InputError;

/// A piece of the bucket, as its screen names it.
struct Member {
    std::string name;
    double weight = 0; ///< of one [kg]; 0 unknown
    int count = 1;
};

std::vector<Member> members(const cure::Question& bucket, const base::Records& records) {
    std::vector<Member> list;
    const auto add = [&](const cure::Piece& piece) {
        cure::Case alone = bucket.base;
        alone.piece = piece;
        base::Records own = records;
        const cure::Setup setup = cure::make_piece(alone, own);
        list.push_back({std::to_string(list.size() + 1) + " (" + cure::cut_name(piece) + ", " +
                            base::show_length(2 * setup.half_thickness) + ")",
                        setup.weight, piece.pieces});
    };
    add(bucket.base.piece);
    for (const cure::OtherPiece& other : bucket.others)
        add(other.piece);
    return list;
}

std::string named(const std::vector<Member>& all) {
    constexpr std::size_t most = 6;
    std::string names;
    for (std::size_t k = 0; k < std::min(most, all.size()); ++k)
        names += (k > 0 ? ", " : "") + all[k].name;
    return names + (all.size() > most ? " to " + all.back().name : "");
}

bool on_the_line(const Given* given) {
    return given && given->on_line();
}

/// One of the pieces that are equal, of the file of piece `number`.
Options piece_of(const Options& options, std::size_t number) {
    Options one = options;
    if (number > 1) {
        const auto flags = piece_flags();
        for (const auto& flag : flags.options())
            if (const std::string& name = flag->long_name();
                name != file_flag && !on_the_line(one.find(name)))
                one.drop(name);
        one.merge(read_piece_file(options.all("with")[number - 2]));
        const Given *first = options.find("muscle"), *now = one.find("muscle");
        if ((first ? first->text : "") != (now ? now->text : ""))
            for (const char* of_muscle : {"diffusivity", "myoglobin", "ph"}) // the first piece's
                if (!on_the_line(one.find(of_muscle)))
                    one.drop(of_muscle);
    }
    for (const char* of_all : {"with", "piece", "pieces", "out", "container"})
        one.drop(of_all);
    return one;
}

} // namespace

Options of_one_piece(const Options& options, const base::Records& records, bool must) {
    const Given* piece = options.find("piece");
    const std::vector<Given>& others = options.all("with");
    if (others.empty()) {
        if (piece)
            throw InputError(piece->where, piece->text,
                             "is a piece of a bucket, and no other piece is told",
                             "leave it out, or name the others in the case file: with = B.ini");
        return options;
    }
    if (!piece && !must)
        return options;
    if (const Given* share = options.find("share"))
        throw InputError(share->where, share->text, "does not go with other pieces in the case",
                         "leave it out: the share of --piece follows from the weights");
    base::Records own = records;
    Options bucket = options;
    bucket.drop("start"); // told once, by the question of the piece
    bucket.drop("ready");
    const std::vector<Member> all =
        members(question_from_options(bucket, "bucket", own).question, records);
    if (!piece)
        throw InputError(others.front().where, others.front().text,
                         "is for tidemark bucket, and this is asked of one piece",
                         "say which it is, as --piece 1: " + named(all));
    const int number = Values(options).count("piece", 1);
    if (number < 1 || static_cast<std::size_t>(number) > all.size())
        throw InputError(piece->where, piece->text, "is not a piece of this bucket",
                         "name one of its pieces by its number: " + named(all));
    const auto k = static_cast<std::size_t>(number);
    Options one = piece_of(options, k);
    double meat = 0;
    for (const Member& m : all) {
        if (!(m.weight > 0))
            return one; // the brine is then no amount that can be shared
        meat += m.weight * m.count;
    }
    one.add("share", {base::significant(100 * all[k - 1].weight / meat, 6) + " %", piece->where});
    return one;
}

} // namespace tidemark::cli
