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

std::string in_one(const judge::Findings& findings) {
    return boost::algorithm::join(findings.dangers(), "; ");
}

} // namespace

std::string csv(const std::vector<cure::Sample>& samples, const judge::Findings& findings) {
    const std::string dangers = field(in_one(findings));
    std::string table = "time_days,depth_mm,tissue,salt_percent,arrived_nitrite_ppm,"
                        "residual_nitrite_ppm,dangers\r\n";
    for (const cure::Sample& s : samples) {
        table += number(s.time / 86400) + ',' + number(s.depth * 1e3) + ',' + field(s.kind) + ',' +
                 number(s.salt * 1e2) + ',' + number(s.arrived * 1e6) + ',' +
                 number(s.residual * 1e6) + ',' + dangers + "\r\n";
    }
    return table;
}

std::string course_csv(const std::vector<Course>& courses, const judge::Findings& findings) {
    std::string table =
        "name,time_days,mean_salt_percent,core_salt_percent,surface_salt_percent,"
        "least_salt_percent,most_salt_percent,core_arrived_nitrite_ppm,mean_arrived_nitrite_ppm,"
        "core_residual_nitrite_ppm,mean_residual_nitrite_ppm,dangers\r\n";
    for (const Course& c : courses)
        for (const cure::Reading& r : c.readings) {
            table += field(c.name) + ',' + number(r.time / 86400);
            for (const double share :
                 {r.mean_salt, r.core_salt, r.surface_salt, r.least_salt, r.most_salt})
                table += ',' + number(share * 1e2);
            for (const double share :
                 {r.core_arrived, r.mean_arrived, r.core_residual, r.mean_residual})
                table += ',' + number(share * 1e6);
            table += ',' + field(in_one(findings)) + "\r\n";
        }
    return table;
}

} // namespace tidemark::output
