// SPDX-License-Identifier: MIT
/// What wet faces take up at first, while it is a thin skin: by the law of the square root on every
/// face, less what two faces at a corner draw from the same tissue. For doses that are in before a
/// skin of cells would notice. Not for skins that meet each other.
#pragma once

#include "transport/along.hpp"
#include "transport/system.hpp"

namespace tidemark::transport {

/// At the nodes: held at c over its tissue [kg per kg water], a node's face has taken up
/// c (2 sqrt(t / pi) face - t corner) by `t`. Exact to these two terms for a sheet, a round, a ball
/// (Crank, The Mathematics of Diffusion, 1975, ch. 3 and 6) and a polygon (van den Berg and
/// Srisatkunarajah, Probab. Th. Rel. Fields 86, 1990, 41), all from memory; tested.
struct Draw {
    Eigen::VectorXd face;   ///< [kg water / s^0.5]
    Eigen::VectorXd corner; ///< [kg water / s]; negative where tissue goes round a corner
};
Draw draw(const geometry::Mesh& mesh, const std::vector<Medium>& media);
Draw draw(const geometry::Line& line, const std::vector<Medium>& media);

/// The same on all planes of a piece (whole.hpp) whose `section` of one metre has been assembled
/// from `media`, with its ends open or not.
Draw draw(const Draw& faces, const System& section, const std::vector<Medium>& media,
          const Along& along, bool ends);

/// What a corner of the angle [rad] lacks, over c x water x diffusivity x t [1]: 4 / pi for a right
/// angle, 0 for none.
double corner_lack(double angle);

} // namespace tidemark::transport
