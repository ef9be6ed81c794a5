// SPDX-License-Identifier: MIT
#include "output/dangers_alone.hpp"

#include "output/json_parts.hpp"
#include "output/screen.hpp"

namespace tidemark::output {

std::string dangers_screen(const judge::Findings& findings, std::size_t columns) {
    Shown shown;
    shown.columns = columns;
    Document document;
    document.dangers(findings);
    return screen(document, shown);
}

std::string dangers_json(const std::string& command, const judge::Findings& findings) {
    json_parts::Json object = json_parts::head(command);
    object["answer"] = nullptr;
    object.update(json_parts::findings(findings));
    return json_parts::text(object);
}

} // namespace tidemark::output
