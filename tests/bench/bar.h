#pragma once
#include <benchmark/benchmark.h>

#include <ctime>

/// Bars of DEFINITIONS.md that are ratios of two times in one run, by turns.
namespace tearline::bench {

/// Seconds of a clock that some work takes: CLOCK_MONOTONIC, CLOCK_THREAD_CPUTIME_ID.
template <class Work>
double seconds_of(clockid_t clock, Work work) {
    const auto now = [clock] {
        timespec time{};
        clock_gettime(clock, &time);
        return static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec);
    };
    const double before = now();
    work();
    return now() - before;
}

/// Whether a ratio was over its bar: what a program of benchmarks exits with.
inline bool& is_missed() {
    static bool missed = false;
    return missed;
}

/// Shows a ratio beside its bar.
inline void hold(benchmark::State& state, double ratio, double bar) {
    state.counters["ratio"] = ratio;
    state.counters["bar"] = bar;
    if (ratio <= bar) return;
    state.SetLabel("OVER ITS BAR");
    is_missed() = true;
}

}  // namespace tearline::bench
