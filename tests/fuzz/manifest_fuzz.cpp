// Entry for libFuzzer (tests/fuzz/run): manifest.json of a folder that is to be replaced. The
// corpus in manifest_corpus/ is replayed as a plain test by manifest_fuzz_test.cpp.
#include "tests/fuzz/manifest_fuzz.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (!tearline::fuzz::manifest_holds({reinterpret_cast<const char*>(data), size})) std::abort();
    return 0;
}
