// SPDX-License-Identifier: MIT
#include "cli/version.hpp"

#include "base/embedded.hpp"

#include <regex>

namespace tidemark::cli {

std::string models_date() {
    for (const base::Embedded& model : base::embedded_models()) {
        const std::string text(model.text.substr(0, 400));
        std::smatch found;
        if (model.name == "posterior.ini" &&
            std::regex_search(text, found, std::regex(R"(--write on (\d{4}-\d\d-\d\d))")))
            return found[1];
    }
    return "unknown";
}

std::string version_text() {
    return std::string("tidemark " TIDEMARK_VERSION "\ncommit ") + built_from + "\nmodels " +
           models_date() + ", when they were last weighed against what is published\n";
}

} // namespace tidemark::cli
