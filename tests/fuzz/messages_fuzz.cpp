// Entry for libFuzzer (tests/fuzz/run): the messages of `tearline serve`. The corpus in
// messages_corpus/ is replayed as a plain test by messages_fuzz_test.cpp.
#include "tests/fuzz/messages_fuzz.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    if (!tearline::fuzz::conversation_holds({reinterpret_cast<const char*>(data), size}))
        std::abort();
    return 0;
}
