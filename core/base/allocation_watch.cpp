#include "core/base/allocation_watch.h"

#include <new>

namespace tearline {

namespace {

thread_local unsigned long failures = 0;

/// Called by operator new where it has none to give.
void count_and_throw() {
    ++failures;
    throw std::bad_alloc();
}

}  // namespace

AllocationWatch::AllocationWatch() : before_(failures) {
    static const auto former = std::set_new_handler(count_and_throw);
    (void)former;
}

void AllocationWatch::check() const {
    if (failures != before_) throw std::bad_alloc();
}

}  // namespace tearline
