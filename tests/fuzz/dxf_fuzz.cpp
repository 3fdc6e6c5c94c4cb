// Entry for libFuzzer (tests/fuzz/run). The corpus in dxf_corpus/ is replayed as a plain test by
// dxf_fuzz_test.cpp.
#include "tests/fuzz/dxf_fuzz.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    if (!tearline::fuzz::dxf_reader_holds(bytes)) std::abort();
    return 0;
}
