// SPDX-License-Identifier: MIT
/// A case in, an answer out, by the installed header alone.
#include <tidemark/tidemark.hpp>

#include <iostream>

int main() {
    namespace api = tidemark::api;
    api::Case piece;
    piece.muscle = "beef-round";
    piece.shape = "round";
    piece.thickness = 0.065;
    piece.weight = 1.2;
    piece.brine_mass = 2.5;
    piece.brine_salt = 0.045;
    piece.brine_nitrite = 250e-6;
    piece.cooler = 276.15;
    try {
        const api::Cure cure(piece);
        for (const std::string& danger : cure.answer().dangers)
            std::cout << "DANGER: " << danger << '\n';
        if (cure.answer().best)
            std::cout << "day " << *cure.answer().best / 86400 << ", right in "
                      << 100 * cure.answer().chance << " of 100\n";
    } catch (const std::exception& error) {
        std::cerr << error.what() << '\n';
        return 1;
    }
}
