// Entry for libFuzzer (tests/fuzz/run). The corpus in job_corpus/ is replayed as a plain test by
// job_fuzz_test.cpp.
#include "tests/fuzz/job_fuzz.h"

#include <cstdlib>

#include "tests/fuzz/mutate_toml.h"

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned start) {
    return tearline::fuzz::mutated(data, size, most, start, tearline::fuzz::change_toml);
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    if (!tearline::fuzz::job_reader_holds(bytes)) std::abort();
    return 0;
}
