// Entry for libFuzzer (tests/fuzz/run). The corpus in points_corpus/ is replayed as a plain test by
// points_fuzz_test.cpp.
#include "tests/fuzz/points_fuzz.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (!tearline::fuzz::scan_readers_hold({reinterpret_cast<const char*>(data), size}))
        std::abort();
    return 0;
}
