// Entry for libFuzzer: clang++ -fsanitize=fuzzer,address -std=c++20 with the sources of core/job
// and core/base. The corpus in job_corpus/ is replayed as a plain test by job_fuzz_test.cpp.
#include "tests/fuzz/job_fuzz.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (!tearline::fuzz::job_reader_holds(data, size)) std::abort();
    return 0;
}
