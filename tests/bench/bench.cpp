// SPDX-License-Identifier: MIT
/// How long answers take, beside a general solver on the same cells, and how that grows. All pieces
/// are invented. Every ratio is of two times of one run: of the processor, of all threads together.
#include "common.hpp"
#include "klu.hpp"

#include "cure/picture.hpp"
#include "cure/two_meshes.hpp"
#include "inference/case_inputs.hpp"
#include "inference/ranges.hpp"

#include <benchmark/benchmark.h>

#include <cmath>

using namespace tidemark;
using test::built_in;
using test::day;

namespace {

cure::Case piece(const std::string& shape, double thickness, double width = 0) {
    cure::Case c;
    c.piece.shape = shape;
    c.piece.dimensions.thickness = thickness;
    c.piece.dimensions.width = width;
    c.brine.salt = 0.06;
    c.brine.nitrite = 150e-6;
    return c;
}

/// Bone-in, with its fat cap: 80 mm thick, in 5 kg of brine.
cure::Case loin() {
    cure::Case c = piece("loin", 0.08, 0.14);
    c.piece.dimensions.fat_cap = 0.008;
    c.piece.dimensions.bones = 3;
    c.piece.weight = 2.5;
    c.brine.mass = 5;
    return c;
}

/// The same as an endless piece: for a general solver's section.
cure::Case endless_loin() {
    cure::Case c = loin();
    c.piece.weight = 0;
    c.brine.mass.reset();
    return c;
}

cure::Outcome solved(const cure::Case& c) {
    return cure::run(cure::in_brine(c), built_in());
}

cure::Question stages(int count) {
    cure::Question q;
    q.base = piece("loin", 0.07, 0.11);
    q.base.piece.dimensions.fat_cap = 0.005;
    q.base.piece.weight = 2;
    q.base.brine.mass = 2.5;
    using Kind = cure::Stage::Kind;
    const Kind kinds[] = {Kind::cover, Kind::cover, Kind::rest, Kind::soak, Kind::rest, Kind::rest};
    for (int k = 0; k < count; ++k) {
        cure::Stage s;
        s.kind = kinds[k % 6];
        s.where = "bench";
        s.duration = 2 * day;
        s.water = s.kind == Kind::soak ? 6 : 0;
        if (k % 2 == 0 && s.kind == Kind::cover)
            s.sealed = {"bottom"};
        q.stages.push_back(s);
    }
    return q;
}

void slab_to_its_day(benchmark::State& state) {
    const cure::Case c = piece("sheet", 0.04);
    for (auto _ : state)
        benchmark::DoNotOptimize(solved(c).at);
}
BENCHMARK(slab_to_its_day)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

void loin_to_its_day_and_maps(benchmark::State& state) {
    const cure::Case c = endless_loin();
    for (auto _ : state) {
        const cure::Outcome o = solved(c);
        benchmark::DoNotOptimize(cure::picture(o, o.at, 168, cure::front_days(o)).arrived.size());
    }
}
BENCHMARK(loin_to_its_day_and_maps)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

/// Both solutes of that loin on both of its meshes, to the same day, by CVODE with KLU, asked for
/// what makes it err by 1e-4 at most: no cells made, no day looked for, nothing drawn.
void loin_by_general_solver(benchmark::State& state) {
    const cure::Outcome o = solved(endless_loin());
    std::vector<double> times = cure::front_days(o);
    if (times.empty() || times.back() < o.at - 60)
        times.push_back(o.at);
    struct One {
        const transport::System* system;
        bool reacts;
    };
    std::vector<One> systems;
    for (const cure::Track* track : {o.solved->coarse.get(), o.solved->fine.get()}) {
        systems.push_back({&track->grid().salt_chain.links().front().system, false});
        systems.push_back({&track->grid().nitrite_chain.links().front().system, true});
    }
    // The loosest tolerance that keeps every unknown of the coarse mesh within 1e-4 of the brine.
    double relative = 1e-2, error = 1;
    for (; error > 1e-4; relative /= 2) {
        error = 0;
        for (std::size_t k = 0; k < 2; ++k) {
            const auto n = systems[k].system->capacity.size();
            const auto loose =
                           bench::by_klu(*systems[k].system, times, relative, systems[k].reacts),
                       exact = bench::by_klu(*systems[k].system, times, 1e-9, systems[k].reacts);
            for (std::size_t i = 0; i < times.size(); ++i)
                error = std::max(error, (loose[i] - exact[i]).head(n).cwiseAbs().maxCoeff() /
                                            systems[k].system->initial.maxCoeff());
        }
        if (error <= 1e-4)
            break;
    }
    for (auto _ : state)
        for (const One& one : systems)
            benchmark::DoNotOptimize(
                bench::by_klu(*one.system, times, relative, one.reacts).back().sum());
    state.counters["asked"] = relative;
    state.counters["error"] = error;
    state.counters["our_error"] = o.time_error;
}
BENCHMARK(loin_by_general_solver)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

void block_to_its_day(benchmark::State& state) {
    const cure::Case c = piece("block", 0.06, 0.1);
    for (auto _ : state)
        benchmark::DoNotOptimize(solved(c).at);
}
BENCHMARK(block_to_its_day)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

/// A quarter of it, cut by hand, with cells of the same size.
void its_quarter_by_hand(benchmark::State& state) {
    cure::Case c = piece("block", 0.03, 0.05);
    c.piece.dimensions.sealed = {"top", "left"};
    c.cells = 12;
    for (auto _ : state)
        benchmark::DoNotOptimize(solved(c).at);
}
BENCHMARK(its_quarter_by_hand)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

void whole_loin_with_ends(benchmark::State& state) {
    const cure::Case c = loin();
    for (auto _ : state)
        benchmark::DoNotOptimize(solved(c).at);
}
BENCHMARK(whole_loin_with_ends)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

void schedule(benchmark::State& state) {
    const cure::Question q = stages(static_cast<int>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(cure::run(q, built_in()).at);
    state.SetComplexityN(state.range(0));
}
BENCHMARK(schedule)
    ->DenseRange(2, 6, 1)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->Complexity();

void draws(benchmark::State& state) {
    const cure::Outcome o = solved(loin());
    const inference::Ask ask{static_cast<int>(state.range(0))};
    for (auto _ : state)
        benchmark::DoNotOptimize(inference::ranges(o, built_in(), ask).best.error);
    state.SetComplexityN(state.range(0));
}
BENCHMARK(draws)
    ->Arg(1000)
    ->Arg(10000)
    ->Arg(40000)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->Complexity();

void cells(benchmark::State& state) {
    cure::Case c = endless_loin();
    c.cells = static_cast<double>(state.range(0));
    Eigen::Index count = 0;
    for (auto _ : state)
        count = solved(c).solved->fine->grid().nodes();
    state.counters["nodes"] = static_cast<double>(count);
    state.SetComplexityN(count);
}
BENCHMARK(cells)
    ->Arg(12)
    ->Arg(24)
    ->Arg(48)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->Complexity();

} // namespace

BENCHMARK_MAIN();
