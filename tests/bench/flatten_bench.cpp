#include <benchmark/benchmark.h>

#include <map>

#include "core/flattening/flatten_membrane.h"
#include "core/flattening/sparse_factor.h"
#include "tests/bench/one_thread.h"
#include "tests/reference/cgal/parameterisations.h"
#include "tests/support/hull_like_shapes.h"

/// Mat flattening against CGAL and against one analyse-and-factor of the same mesh, in one run
/// (DEFINITIONS.md, Bars). `bench_flatten --benchmark_filter=/20$` for the small meshes only.
namespace tearline {
namespace {

/// Bilge of 40 mm radius, 6 rings^2 triangles: 18, 58 and 183 rings are 2k, 20k and 200k.
const surface::SurfaceMesh& bilge(std::int64_t rings) {
    static std::map<std::int64_t, surface::SurfaceMesh> meshes;
    auto& mesh = meshes[rings];
    if (mesh.triangle.empty())
        mesh = test::on_graph(test::disc(300.0, static_cast<int>(rings)), test::bilge_shape);
    return mesh;
}

void count(benchmark::State& state, const surface::SurfaceMesh& mesh, double energy) {
    state.counters["triangles"] = static_cast<double>(mesh.triangle.size());
    state.counters["energy_mm2"] = energy;
}

void membrane(benchmark::State& state) {
    const auto& mesh = bilge(state.range(0));
    double energy = 0.0;
    for (auto _ : state) energy = flattening::flatten_membrane(mesh)->energy;
    count(state, mesh, energy);
}

void analyse_and_factor(benchmark::State& state) {
    const auto& mesh = bilge(state.range(0));
    const auto energy = flattening::MembraneEnergy::of(mesh);
    const auto matrix = flattening::held_laplacian(*energy, 0);
    for (auto _ : state) {
        flattening::SparseFactor factor;
        if (!factor.compute(matrix)) state.SkipWithError("not definite");
    }
    state.counters["triangles"] = static_cast<double>(mesh.triangle.size());
}

void cgal_arap(benchmark::State& state) {
    const auto& mesh = bilge(state.range(0));
    std::vector<Vec2> flat;
    for (auto _ : state) flat = test::cgal_arap(mesh);
    count(state, mesh, test::energy_by_singular_values(mesh, flat));
}

void cgal_lscm(benchmark::State& state) {
    const auto& mesh = bilge(state.range(0));
    std::vector<Vec2> flat;
    for (auto _ : state) flat = test::cgal_lscm(mesh);
    count(state, mesh, test::energy_by_singular_values(mesh, flat));
}

BENCHMARK(membrane)->Arg(18)->Arg(58)->Arg(183)->Unit(benchmark::kMillisecond);
BENCHMARK(analyse_and_factor)->Arg(18)->Arg(58)->Arg(183)->Unit(benchmark::kMillisecond);
BENCHMARK(cgal_lscm)->Arg(18)->Arg(58)->Arg(183)->Unit(benchmark::kMillisecond)->Iterations(1);
BENCHMARK(cgal_arap)->Arg(18)->Arg(58)->Arg(183)->Unit(benchmark::kMillisecond)->Iterations(1);

}  // namespace
}  // namespace tearline

BENCHMARK_MAIN();
