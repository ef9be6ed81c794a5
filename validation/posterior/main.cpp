// SPDX-License-Identifier: MIT
/// posterior SOURCE_DIR [--write]: weighs what is published, prints the scorecard of sources kept
/// out, and with --write remakes models/posterior.ini and the page's tables.
#include "posterior/report.hpp"

#include "base/error.hpp"
#include "base/file.hpp"

#include <exception>
#include <iostream>
#include <string>

int main(int argc, char** argv) {
    using namespace tidemark;
    if (argc < 2 || argc > 3 || (argc == 3 && std::string(argv[2]) != "--write")) {
        std::cerr << "usage: posterior SOURCE_DIR [--write]\n";
        return 2;
    }
    try {
        const std::string root = argv[1];
        const posterior::Report report(root + "/validation");
        std::cout << report.page() << '\n' << report.records();
        if (argc == 3) {
            base::write_file(root + "/models/posterior.ini", report.records());
            posterior::put_on_page(root + "/validation/posterior/README.md", report.page());
        }
    } catch (const std::exception& error) {
        std::cerr << error.what() << '\n';
        return 1;
    }
}
