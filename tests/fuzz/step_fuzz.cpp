// Entry for libFuzzer (tests/fuzz/run): the exchange structure of STEP, judged before the library
// reads it. The corpus in step_corpus/ is replayed as a plain test by step_fuzz_test.cpp.
#include "tests/fuzz/step_fuzz.h"

#include <cstdlib>

#include "tests/fuzz/mutate_step.h"

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned start) {
    return tearline::fuzz::mutated(data, size, most, start, tearline::fuzz::change_step);
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (!tearline::fuzz::step_scan_holds({reinterpret_cast<const char*>(data), size})) std::abort();
    return 0;
}
