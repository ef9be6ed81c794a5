// SPDX-License-Identifier: MIT
/// Lines of a notebook as the program writes them, for notebooks that it would not write itself.
#pragma once

#include <boost/crc.hpp>

#include <cstdio>
#include <string>

namespace tidemark::cli {

/// One batch, invented, of a cut that is quick to work out. Texts without commas and quotes.
struct Line {
    std::string batch = "one", thickness = "40", day = "3", ring = "9";

    static inline const std::string header =
        "date,batch,muscle,shape,thickness_mm,brine_salt_percent,brine_nitrite_ppm,cooler_C,day,"
        "ring_mm,ring_top_mm,ring_bottom_mm,ring_left_mm,ring_right_mm,grey_mm,grey_width_mm,"
        "pink_through,predicted_half_day,predicted_late_day,command,check\n";

    std::string text() const {
        boost::crc_32_type crc;
        std::string line;
        for (const std::string& field :
             {std::string("2026-12-05"),
              batch,
              std::string("pork-loin"),
              std::string("round"),
              thickness,
              std::string("6"),
              std::string("150"),
              std::string("3"),
              day,
              ring,
              std::string(),
              std::string(),
              std::string(),
              std::string(),
              std::string(),
              std::string(),
              std::string("no"),
              std::string(),
              std::string(),
              "tidemark day --muscle pork-loin --shape round --thickness " + thickness +
                  "mm --brine-salt 6% --brine-nitrite 150ppm --cooler 3C"}) {
            crc.process_bytes(field.data(), field.size());
            crc.process_byte(0x1F);
            line += field + ',';
        }
        char check[16];
        std::snprintf(check, sizeof check, "x%08x", static_cast<unsigned>(crc.checksum()));
        return line + check + '\n';
    }
};

} // namespace tidemark::cli
