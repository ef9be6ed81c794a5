// SPDX-License-Identifier: MIT
/// posterior SOURCE_DIR [--write | --figure FILE]: weighs what is published, prints the scorecard
/// of sources kept out, with --write remakes models/posterior.ini and the page's tables, with
/// --figure draws the scorecard.
#include "posterior/report.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "output/gnuplot.hpp"
#include "posterior/figure.hpp"

#include <exception>
#include <iostream>
#include <string>

int main(int argc, char** argv) {
    using namespace tidemark;
    const std::string how = argc > 2 ? argv[2] : "";
    if (argc < 2 || argc != (how.empty() ? 2 : how == "--figure" ? 4 : how == "--write" ? 3 : 0)) {
        std::cerr << "usage: posterior SOURCE_DIR [--write | --figure FILE]\n";
        return 2;
    }
    try {
        const std::string root = argv[1];
        const posterior::Report report(root + "/validation");
        std::cout << report.page() << '\n' << report.records();
        if (how == "--figure") {
            output::draw_page(argv[3], posterior::figure(report));
        }
        if (how == "--write") {
            base::write_file(root + "/models/posterior.ini", report.records());
            posterior::put_on_page(root + "/validation/posterior/README.md", report.page());
        }
    } catch (const std::exception& error) {
        std::cerr << error.what() << '\n';
        return 1;
    }
}
