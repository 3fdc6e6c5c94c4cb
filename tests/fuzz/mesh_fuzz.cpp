// Entry for libFuzzer (tests/fuzz/run). The corpus in mesh_corpus/ is replayed as a plain test by
// mesh_fuzz_test.cpp.
#include "tests/fuzz/mesh_fuzz.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    if (!tearline::fuzz::mesh_readers_hold(bytes)) std::abort();
    return 0;
}
