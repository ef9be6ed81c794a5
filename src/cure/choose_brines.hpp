// SPDX-License-Identifier: MIT
/// The brines and doses that the ways of choose() are made of.
#pragma once

#include "cure/choose.hpp"
#include "cure/setup.hpp"

#include <string>

namespace tidemark::cure {

/// The nitrite aimed at by one method [kg per kg], never above its limit unless the cook asked.
double aim(const ChooseQuestion& q, const std::string& method, base::Records& records);

/// The nitrate that the cook's premix brings along with so much nitrite [same unit].
double with_nitrate(const ChooseQuestion& q, double nitrite);

/// Of `nitrite`, what the cook's premix can bring without more salt than `salt` [same unit].
double carried(const ChooseQuestion& q, double nitrite, double salt);

/// A brine of the meat's own weight that would balance at the aim.
/// Throws base::InputError where no weight is known, or the brine is less than its salt.
Brine balancing(const ChooseQuestion& q, base::Records& records, const Setup& piece);

/// A dose is counted by all of the meat's weight, but needles put nothing in fat and bone, and in
/// time fat takes up as much as its water is to the lean's: of the weight, the lean that would take
/// up as much [1]. The lean is what is tasted.
double pumped_share(const Setup& piece);
double salted_share(const Setup& piece);

/// The strongest brine that is pumped: nearly all that dissolves [kg salt per kg brine].
double most_in_needles(const Case& q, base::Records& records);

/// The aim as nitrite of the piece and salt of its lean, in a brine pumped to `share` of its
/// weight.
Brine pump_brine(const ChooseQuestion& q, double share, double most, base::Records& records);

/// The mean salt aimed at where none is asked for [kg per kg cured meat]: in the taste band, nearer
/// to its lower end; more for a piece that is simmered or soaked afterwards.
double usual_salt(const Case& question, const base::Records& records);

/// A brine to be pumped to `share` [1] of the meat in place of any other: it brings usual_salt()
/// and the usual nitrite, no more than the law allows.
Brine pumped_alone(const Case& question, double share, base::Records& records);

/// A cover brine of the case to be pumped too, to `share` [1], its nitrite no more than the law
/// leaves beside the cover's. Throws base::InputError for what the cook wrote.
Brine pumped_beside(const Case& question, const Pickle& cover, double share,
                    base::Records& records);

} // namespace tidemark::cure
