#include "core/base/large_pages.h"

#include <malloc.h>
#include <sys/mman.h>
#include <unistd.h>

#include <cstdint>
#include <cstdlib>

namespace tearline {

namespace {

constexpr int growth = 64 << 20;                // [bytes]
constexpr std::uintptr_t large_page = 2 << 20;  // [bytes]
constexpr int usual_step = 128 << 10;           // [bytes] the heap grows by after that
constexpr int kept_at_end = 2 * growth;         // [bytes] free, before any is given back
constexpr int lies_apart = 32 << 20;            // [bytes] from which on; glibc's own most

std::uintptr_t end_of_heap() {
    return reinterpret_cast<std::uintptr_t>(sbrk(0));
}

}  // namespace

void use_large_pages() {
    mallopt(M_MMAP_THRESHOLD, lies_apart);
    mallopt(M_TRIM_THRESHOLD, kept_at_end);
    const std::uintptr_t before = end_of_heap();
    mallopt(M_TOP_PAD, growth);
    void* volatile more_than_there_is = std::malloc(large_page);
    std::free(more_than_there_is);
    mallopt(M_TOP_PAD, usual_step);
    const std::uintptr_t first = (before + large_page - 1) / large_page * large_page;
    if (end_of_heap() > first)
        (void)madvise(reinterpret_cast<void*>(first), end_of_heap() - first, MADV_HUGEPAGE);
}

}  // namespace tearline
