// The program of benchmarks that hold bars: fails when one was missed.
#include "tests/bench/bar.h"

int main(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    benchmark::Shutdown();
    return tearline::bench::is_missed() ? 1 : 0;
}
