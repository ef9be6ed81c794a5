// SPDX-License-Identifier: MIT
/// Names are checked against what models/ holds, so that a new section there is enough.
#include "materials/lookup.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string/join.hpp>
#include <boost/range/adaptor/map.hpp>
#include <boost/range/iterator_range.hpp>

#include <algorithm>
#include <map>

namespace tidemark::materials {

const std::string& known(const std::string& what, const std::string& name,
                         const std::vector<std::string>& names) {
    if (std::ranges::find(names, name) == names.end()) {
        const std::string near = base::nearest(name, names);
        throw base::InputError(what, name, "is not known",
                               near.empty() ? "use " + boost::join(names, ", ")
                                            : "did you mean " + near + "?");
    }
    return name;
}

Table table(const base::Records& records, const std::string& group) {
    std::map<double, double> points;
    for (const std::string& name : records.group(group)) {
        const double place = std::stod(name.substr(1));
        const double x = name[0] == 's'
                             ? base::to_si(place, "%", base::Dimension::fraction)
                             : base::to_si(place / 10, "C", base::Dimension::temperature);
        points[x] = records.find(group + '.' + name)->si();
    }
    using Values = std::vector<double>;
    return {boost::copy_range<Values>(points | boost::adaptors::map_keys),
            boost::copy_range<Values>(points | boost::adaptors::map_values)};
}

} // namespace tidemark::materials
