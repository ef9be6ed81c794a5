// SPDX-License-Identifier: MIT
#include "inference/similar.hpp"

#include <cmath>

namespace tidemark::inference {
namespace {

double speed(bool nitrite, const Draw& d) {
    return nitrite ? d.nitrite_speed : d.salt_speed;
}

} // namespace

bool scales(const cure::Question& q) {
    const cure::Stage& s = q.stages.front();
    return q.stages.size() == 1 && s.open() && s.kind == cure::Stage::Kind::cover && !q.pump &&
           !s.log;
}

double clock(bool nitrite, const Draw& d) {
    return speed(nitrite, d) / (d.size * d.size);
}

Similar similar(const cure::Setup& setup, bool nitrite, const Draw& d) {
    const transport::Bath& bath = setup.salt_bath;
    Similar s;
    if (nitrite && (setup.tissues.at("lean").nitrite.loss > 0 || setup.nitrite_bath.loss > 0)) {
        s.loss = d.loss / clock(nitrite, d);
    }
    if (std::isfinite(bath.water)) {
        s.bath = d.partition * d.meat / d.water;
    }
    if (std::isfinite(bath.film)) {
        s.film = d.size / (d.partition * speed(nitrite, d));
    }
    return s;
}

} // namespace tidemark::inference
