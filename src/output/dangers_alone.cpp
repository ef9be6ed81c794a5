// SPDX-License-Identifier: MIT
#include "output/dangers_alone.hpp"

#include "output/screen.hpp"

#include <nlohmann/json.hpp>

namespace tidemark::output {

std::string dangers_screen(const judge::Findings& findings) {
    Screen screen;
    screen.dangers(findings);
    return screen.text();
}

std::string dangers_json(const judge::Findings& findings) {
    const nlohmann::ordered_json object = {{"program", "tidemark"},
                                           {"version", TIDEMARK_VERSION},
                                           {"answer", nullptr},
                                           {"dangers", findings.dangers()},
                                           {"warnings", findings.warnings()}};
    return object.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + '\n';
}

} // namespace tidemark::output
