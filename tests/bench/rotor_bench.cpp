// What one operating point costs, from cold and from a neighbour, and how much of it is the
// residual.
//
// Times depend on the machine: quote the ratios, which the run prints at its end.

#include "loadline/rotor/detail/annulus.hpp"
#include "loadline/rotor/rotor.hpp"

#include "../random_rotor.hpp"

#include <benchmark/benchmark.h>
#include <fmt/core.h>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

using namespace loadline;
using namespace loadline::test;

namespace {

// A propeller of the trade on a section that stalls, at a climb condition.
Rotor climb_rotor() {
    BladeDescription d;
    d.diameter = 1.3;
    d.sections = {stalling_section(12.0, 0.1, 6.0)};
    for (int i = 0; i <= 8; ++i) {
        const double x = 0.15 + 0.85 * i / 8.0;
        d.stations.push_back({0.65 * x,
                              0.11 - 0.05 * x,
                              std::atan(0.70 / (2.0 * std::numbers::pi * 0.65 * x)),
                              {},
                              0.0,
                              0});
    }
    return Rotor(Blade(std::move(d)));
}

const OperatingPoint climb{11.0, 2500.0 * rpm};

void cold_point(benchmark::State& state) {
    const Rotor rotor = climb_rotor();
    const Air air;
    int evaluations = 0;
    for (auto _ : state)
        evaluations = rotor.solve(air, climb).evaluations;
    state.counters["evaluations_per_annulus"] = evaluations / 30.0;
}
BENCHMARK(cold_point);

void neighbouring_point(benchmark::State& state) {
    const Rotor rotor = climb_rotor();
    const Air air;
    RotorSeed seed;
    int evaluations = 0;
    double speed = 11.0;
    for (auto _ : state) {
        speed = speed > 11.5 ? 10.5 : speed + 0.1;
        evaluations = rotor.solve(air, {speed, climb.rotation}, &seed).evaluations;
    }
    state.counters["evaluations_per_annulus"] = evaluations / 30.0;
}
BENCHMARK(neighbouring_point);

void residual_alone(benchmark::State& state) {
    const Rotor rotor = climb_rotor();
    const Air air;
    const auto& annuli = rotor.annuli();
    std::vector<AnnulusFlow> flows;
    for (const Rotor::Annulus& n : annuli)
        flows.emplace_back(n, climb.airspeed, climb.rotation * n.radius, air);
    double phi = 0.1;
    double sum = 0.0;
    for (auto _ : state) {
        phi = phi > 0.3 ? 0.1 : phi + 0.013;
        for (const AnnulusFlow& flow : flows)
            sum += flow.evaluate(phi).residual;
    }
    benchmark::DoNotOptimize(sum);
    state.SetItemsProcessed(state.iterations() * 30);
}
BENCHMARK(residual_alone);

double seconds(const auto& work) {
    const auto from = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - from).count();
}

// One operating point over its own residual evaluations: the median of interleaved runs.
void print_ratio() {
    const Rotor rotor = climb_rotor();
    const Air air;
    std::vector<AnnulusFlow> flows;
    for (const Rotor::Annulus& n : rotor.annuli())
        flows.emplace_back(n, climb.airspeed, climb.rotation * n.radius, air);
    std::vector<double> ratios;
    volatile double sink = 0.0;
    for (int round = 0; round < 31; ++round) {
        int evaluations = 0;
        const double point = seconds([&] {
            for (int k = 0; k < 400; ++k) {
                const RotorResult r =
                    rotor.solve(air, {climb.airspeed + 0.001 * k, climb.rotation});
                evaluations += r.evaluations;
                sink = r.thrust;
            }
        });
        const double residual = seconds([&] {
            double sum = 0.0;
            for (int k = 0; k < evaluations / 30; ++k)
                for (const AnnulusFlow& flow : flows)
                    sum += flow.evaluate(0.1 + 1e-5 * k).residual;
            sink = sum;
        });
        ratios.push_back(point / residual);
    }
    std::sort(ratios.begin(), ratios.end());
    fmt::print("one operating point costs {:.2f} times its residual evaluations alone\n",
               ratios[ratios.size() / 2]);
}

// A million random conditions, far beyond use.
void print_million() {
    RandomRotors random(2026);
    const int count = 1'000'000;
    long evaluations = 0;
    int without = 0;
    const double time = seconds([&] {
        for (int i = 0; i < count; ++i) {
            const RandomPoint p = random.next(true);
            RotorModel model;
            model.annuli = 4;
            model.drag_in_induction = i % 2 == 0;
            model.tip_loss = i % 5 == 0 ? TipLoss::prandtl : TipLoss::goldstein;
            const RotorResult r = Rotor(p.blade, model).solve(p.air, p.point);
            evaluations += r.evaluations;
            if (r.status != RotorStatus::converged || !std::isfinite(r.thrust) ||
                !std::isfinite(r.torque) || !std::isfinite(r.efficiency))
                ++without;
        }
    });
    fmt::print(
        "{} random conditions: {} without a finite answer, {:.2f} evaluations per annulus, "
        "{:.0f} s\n",
        count, without, static_cast<double>(evaluations) / (4.0 * count), time);
}

}  // namespace

int main(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    print_ratio();
    if (argc > 1 && std::string(argv[1]) == "million")
        print_million();
    return 0;
}
