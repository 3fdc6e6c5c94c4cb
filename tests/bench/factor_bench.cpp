// Mat flattening against one analyse-and-factor of the same mesh's matrix, by the faster of Eigen's
// LDLT and CHOLMOD, one thread, processor time (DEFINITIONS.md, Bars).
#include <Eigen/CholmodSupport>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <limits>

#include "core/flattening/flatten_membrane.h"
#include "core/flattening/sparse_factor.h"
#include "tests/bench/bar.h"
#include "tests/bench/one_thread.h"
#include "tests/support/hull_like_shapes.h"

namespace tearline {
namespace {

using Matrix = Eigen::SparseMatrix<double>;

/// A bilge of 40 mm radius, 6 rings^2 triangles.
///
/// @param rings, tenths  of the mesh; of the bar
void flatten_over_factor(benchmark::State& state) {
    const auto mesh =
        test::on_graph(test::disc(300.0, static_cast<int>(state.range(0))), test::bilge_shape);
    const auto energy = flattening::MembraneEnergy::of(mesh);
    const Matrix matrix = flattening::held_laplacian(*energy, 0);
    const auto seconds = [](auto work) { return bench::seconds_of(CLOCK_THREAD_CPUTIME_ID, work); };
    // The least of each: what else runs on the machine only adds.
    double flat = std::numeric_limits<double>::infinity(), columns = flat, blocks = flat;
    for (auto _ : state) {
        flat = std::min(flat, seconds([&] { (void)flattening::flatten_membrane(mesh); }));
        columns = std::min(columns, seconds([&] {
                               Eigen::SimplicialLDLT<Matrix, Eigen::Lower> factor(matrix);
                               benchmark::DoNotOptimize(factor.info());
                           }));
        blocks = std::min(blocks, seconds([&] {
                              Eigen::CholmodDecomposition<Matrix, Eigen::Lower> factor(matrix);
                              benchmark::DoNotOptimize(factor.info());
                          }));
    }
    state.counters["flat_ms"] = 1e3 * flat;
    state.counters["ldlt_ms"] = 1e3 * columns;
    state.counters["cholmod_ms"] = 1e3 * blocks;
    bench::hold(state, flat / std::min(columns, blocks), 0.1 * static_cast<double>(state.range(1)));
}
BENCHMARK(flatten_over_factor)
    ->Args({58, 20})
    ->Args({183, 25})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(5);

}  // namespace
}  // namespace tearline
