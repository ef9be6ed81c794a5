// SPDX-License-Identifier: MIT
#include "output/numbers_json.hpp"

#include "output/json_parts.hpp"

namespace tidemark::output {

std::string numbers_json(const base::Records& records, const std::vector<std::string>& keys) {
    using namespace json_parts;
    std::vector<base::Record> numbers;
    Json sources = Json::object();
    for (const std::string& key : keys) {
        numbers.push_back(*records.find(key));
        if (const base::Source* source = records.source(numbers.back().source))
            sources[source->key] = source->citation;
    }
    Json object = head("numbers");
    object["numbers"] = parameters(numbers);
    object["sources"] = sources;
    return text(object);
}

} // namespace tidemark::output
