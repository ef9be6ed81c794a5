// SPDX-License-Identifier: MIT
/// One row per sample.
#include "output/csv.hpp"

#include "base/text.hpp"

#include <boost/algorithm/string/join.hpp>
#include <boost/algorithm/string/replace.hpp>

#include <cmath>

namespace tidemark::output {
namespace {

std::string number(double value) {
    return std::isfinite(value) ? base::significant(value, 9) : "";
}

std::string field(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) {
        return text;
    }
    return '"' + boost::replace_all_copy(text, "\"", "\"\"") + '"';
}

} // namespace

std::string csv(const std::vector<cure::Sample>& samples, const judge::Findings& findings) {
    const std::string dangers = field(boost::algorithm::join(findings.dangers(), "; "));
    std::string table = "time_days,depth_mm,tissue,salt_percent,arrived_nitrite_ppm,"
                        "residual_nitrite_ppm,dangers\r\n";
    for (const cure::Sample& s : samples) {
        table += number(s.time / 86400) + ',' + number(s.depth * 1e3) + ',' + field(s.kind) + ',' +
                 number(s.salt * 1e2) + ',' + number(s.arrived * 1e6) + ',' +
                 number(s.residual * 1e6) + ',' + dangers + "\r\n";
    }
    return table;
}

} // namespace tidemark::output
