// What a comparison costs as candidates are added, with its bands and without.
//
// Times depend on the machine: quote the ratios, which the run prints at its end.

#include "loadline/study/compare.hpp"

#include "../linear_rotor.hpp"

#include <benchmark/benchmark.h>
#include <fmt/core.h>
#include <chrono>
#include <memory>
#include <string>
#include <vector>

using namespace loadline;
using namespace loadline::test;

namespace {

Engine single() {
    EngineDescription d;
    d.rated = TorquePoint{7900 * rpm, 15.4e3 / (7900 * rpm)};
    d.peak_torque = TorquePoint{7000 * rpm, 19.6};
    d.idle = 2300 * rpm;
    return Engine(std::move(d));
}

struct Task {
    Scenario scenario;
    std::vector<std::unique_ptr<Rotor>> rotors;
    std::vector<Candidate> candidates;

    explicit Task(int count) {
        scenario.engine = single();
        scenario.drive = Drive{2.9, 0.96};
        scenario.craft = Craft{134.0, 11.4, 7.0};
        scenario.head.in_climb = 445.0;
        for (int i = 0; i < count; ++i) {
            rotors.push_back(std::make_unique<Rotor>(
                linear_blade({1.33 + 0.01 * (i % 7), 2, 0.095, 0.045, 0.62 + 0.01 * (i % 5), 0.0}),
                RotorModel{}));
            candidates.push_back(
                {std::to_string(i), rotors.back().get(), Knowledge::section_known, 0.6, {}, false});
        }
    }
};

void comparison(benchmark::State& state) {
    Task task(static_cast<int>(state.range(0)));
    for (auto _ : state)
        benchmark::DoNotOptimize(
            compare(task.scenario, task.candidates, static_cast<std::size_t>(state.range(1))));
    state.counters["candidates"] = static_cast<double>(state.range(0));
}
BENCHMARK(comparison)
    ->Args({2, 0})
    ->Args({6, 0})
    ->Args({2, 2000})
    ->Args({6, 2000})
    ->Args({24, 2000})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

double seconds(int count, std::size_t draws) {
    Task task(count);
    const auto begun = std::chrono::steady_clock::now();
    benchmark::DoNotOptimize(compare(task.scenario, task.candidates, draws));
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
}

}  // namespace

int main(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    const double six = seconds(6, 2000);
    fmt::print("bands over none, six candidates: {:.1f}\n", six / seconds(6, 0));
    fmt::print("24 candidates over 6: {:.2f} (4 when the cost is linear)\n",
               seconds(24, 2000) / six);
    return 0;
}
