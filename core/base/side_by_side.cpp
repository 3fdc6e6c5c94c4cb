#include "core/base/side_by_side.h"

#include <tbb/blocked_range.h>
#include <tbb/global_control.h>
#include <tbb/parallel_for.h>
#include <tbb/partitioner.h>
#include <tbb/task_arena.h>

namespace tearline {

void side_by_side(std::size_t count, const std::function<void(std::size_t)>& work) {
    if (count == 1) return work(0);
    // Alone: a thread that waits for its part takes nothing up that others began, which could need
    // what it holds.
    tbb::this_task_arena::isolate([&] {
        tbb::parallel_for(
            tbb::blocked_range<std::size_t>(0, count, 1),
            [&](const tbb::blocked_range<std::size_t>& range) {
                for (std::size_t i = range.begin(); i != range.end(); ++i) work(i);
            },
            tbb::simple_partitioner());
    });
}

void side_by_side(const std::function<void()>& one, const std::function<void()>& other) {
    side_by_side(2, [&](std::size_t i) { (i == 0 ? one : other)(); });
}

void ready_side_by_side() {
    tbb::this_task_arena::isolate([] {});
}

void one_thread_only() {
    static const tbb::global_control alone(tbb::global_control::max_allowed_parallelism, 1);
    (void)alone;
}

}  // namespace tearline
