// SPDX-License-Identifier: MIT
/// The regulator's arithmetic of ingoing nitrite, which counts what is put in and asks no model.
/// For nitrate and accelerators too. Base: the green (raw) weight. Shares are proportions.
#pragma once

namespace tidemark::cure {

/// Nitrite in an amount of premix [kg] of a strength [kg/kg]. Throws InputError for a strength
/// outside 0 to 1: 6.25 entered for 6.25 % would give a hundred times too much.
double nitrite_in(double premix, double strength);

/// Ground or dry-cured meat [kg nitrite per kg green meat]: all of it stays (fsis1995 pages 12,
/// 24).
double ingoing_on_green(double nitrite, double meat);

/// Pumped or short immersion with the gain weighed [kg nitrite per kg green meat]: `uptake` is the
/// pickle kept over the green weight (fsis1995 page 19, and Method One of immersion). Wrong for
/// meat left until balance. Throws InputError for an uptake outside 0 to 1.
double ingoing_taken_up(double nitrite, double uptake, double pickle);

/// Immersion until meat and pickle are one system [kg nitrite per kg of both], Method Two of
/// immersion (fsis1995 page 22).
double ingoing_whole(double nitrite, double meat, double pickle);

/// That turned round: nitrite [kg] that brings a level [kg/kg].
double nitrite_for_whole(double level, double meat, double pickle);

} // namespace tidemark::cure
