#include "core/base/allocation_watch.h"

#include <cstdlib>
#include <new>

namespace tearline {

namespace {

/// Enough for the nodes of a list, which are small; a large array that does not fit fails as ever.
constexpr std::size_t reserve_bytes = 65536;

/// Memory kept for the moment when there is no other.
struct Reserve {
    void* bytes = nullptr;
    ~Reserve() { std::free(bytes); }
};

thread_local unsigned long failures = 0;
thread_local int watching = 0;
thread_local Reserve reserve;

/// Called by operator new where it has none to give, until it has or this throws.
void give_reserve_or_throw() {
    ++failures;
    if (watching == 0 || reserve.bytes == nullptr) throw std::bad_alloc();
    std::free(reserve.bytes);
    reserve.bytes = nullptr;
}

}  // namespace

AllocationWatch::AllocationWatch() : before_(failures) {
    static const auto former = std::set_new_handler(give_reserve_or_throw);
    (void)former;
    if (reserve.bytes == nullptr) reserve.bytes = std::malloc(reserve_bytes);
    if (reserve.bytes == nullptr) throw std::bad_alloc();
    ++watching;
}

AllocationWatch::~AllocationWatch() {
    --watching;
}

void AllocationWatch::check() const {
    if (failures != before_) throw std::bad_alloc();
}

}  // namespace tearline
