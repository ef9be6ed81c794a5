// SPDX-License-Identifier: MIT
/// The first byte of some inputs chooses among what may be read.
#include "targets.hpp"

#include "base/calendar.hpp"
#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cli/options.hpp"
#include "cli/stages.hpp"
#include "cure/cooler_log.hpp"
#include "geometry/mesh.hpp"
#include "geometry/shapes.hpp"
#include "inference/notebook.hpp"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>

namespace tidemark::fuzz {
namespace {

void must(bool holds, const char* what) {
    if (!holds) {
        std::fprintf(stderr, "does not hold: %s\n", what);
        std::abort();
    }
}

std::string text_of(const std::uint8_t* bytes, std::size_t count) {
    return {reinterpret_cast<const char*>(bytes), count};
}

/// A refusal is an InputError that can be shown; a mesher may give up with a RunError.
template <class Read> void read_or_refused(const Read& read) {
    try {
        read();
    } catch (const base::InputError& error) {
        must(!base::showable(error.what()).empty(), "a refusal says something");
    } catch (const base::RunError&) {
    }
}

/// A file with these bytes, gone again at the end.
class Written {
public:
    explicit Written(const std::string& bytes)
        : name_("/tmp/tidemark-fuzz-" + std::to_string(getpid())) {
        std::ofstream(name_, std::ios::binary) << bytes;
    }
    ~Written() { unlink(name_.c_str()); }
    Written(const Written&) = delete;
    Written& operator=(const Written&) = delete;
    const std::string& name() const { return name_; }

private:
    std::string name_;
};

} // namespace

void quantity(const std::uint8_t* bytes, std::size_t count) {
    if (count == 0)
        return;
    const auto dimension = static_cast<base::Dimension>(bytes[0] % 14);
    const std::string text = text_of(bytes + 1, count - 1);
    read_or_refused(
        [&] { must(std::isfinite(base::parse(text, dimension, "--x")), "a quantity is finite"); });
    read_or_refused(
        [&] { base::parse_either(text, base::Dimension::mass, base::Dimension::volume, "--x"); });
}

void date(const std::uint8_t* bytes, std::size_t count) {
    read_or_refused([&] {
        const auto moment = base::parse_moment(text_of(bytes, count), "--start");
        const std::string shown = base::format_moment(moment, "%Y-%m-%d %H:%M:%S");
        must(base::parse_moment(shown, "") == moment, "a date that is shown reads the same");
    });
}

void case_file(const std::uint8_t* bytes, std::size_t count) {
    const Written file(text_of(bytes, count));
    read_or_refused([&] { cli::read_options({"--case", file.name()}, "plan"); });
}

void stage(const std::uint8_t* bytes, std::size_t count) {
    const std::string text = text_of(bytes, count);
    if (text.find("log") != std::string::npos) // would read files
        return;
    read_or_refused([&] { cli::stage_from_text({text, "--stage"}, {}); });
}

void outline(const std::uint8_t* bytes, std::size_t count) {
    read_or_refused([&] {
        const geometry::Section s = geometry::outline_from_csv(text_of(bytes, count), "s.csv");
        must(geometry::areas(s).lean > 0, "lean is left");
        must(geometry::wet_share(s) > 0, "something is wet");
    });
}

void cooler_log(const std::uint8_t* bytes, std::size_t count) {
    read_or_refused([&] {
        const cure::CoolerLog log = cure::cooler_log_from_csv(text_of(bytes, count), "log.csv");
        must(log.time.size() >= 2 && std::is_sorted(log.time.begin(), log.time.end()), "in order");
        must(log.mean() > 268 && log.mean() < 294, "between -5 and 20 C");
    });
}

void notebook(const std::uint8_t* bytes, std::size_t count) {
    read_or_refused([&] {
        for (const inference::Batch& b :
             inference::notebook_from_text(text_of(bytes, count), "shop.csv").batches)
            must(std::isfinite(b.slice.time), "a batch has a day");
    });
}

void drawing(const std::uint8_t* bytes, std::size_t count) {
    // Parts one after the other: kind, number of points, then their places in half millimetres.
    static const char* const kinds[] = {"outline", "fat", "bone", "lean", "sealed"};
    std::string table = "part,kind,x [mm],y [mm]\n";
    int part = 0;
    for (std::size_t k = 0; k + 1 < count && part < 6; ++part) {
        const std::string kind = part == 0 ? kinds[0] : kinds[1 + bytes[k] % 4];
        const std::size_t points = 3 + bytes[k + 1] % 30;
        k += 2;
        for (std::size_t i = 0; i < points && k + 1 < count; ++i, k += 2)
            table += std::to_string(part) + ',' + kind + ',' +
                     base::significant(bytes[k] / 2.0, 6) + ',' +
                     base::significant(bytes[k + 1] / 2.0, 6) + '\n';
    }
    read_or_refused([&] {
        const geometry::Section s = geometry::outline_from_csv(table, "s.csv");
        const geometry::Mesh mesh = geometry::triangulate(s, s.thickness / 8);
        double area = 0;
        for (const auto& t : mesh.triangles) {
            const geometry::Point &a = mesh.nodes[t[0]], &b = mesh.nodes[t[1]],
                                  &c = mesh.nodes[t[2]];
            const double twice =
                (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
            must(twice > 0, "cells turn left");
            area += twice / 2;
        }
        // Coarse cells cut a gentle bend by a chord.
        must(std::abs(area / geometry::areas(s).total - 1) < 0.05, "cells fill the section");
    });
}

} // namespace tidemark::fuzz
