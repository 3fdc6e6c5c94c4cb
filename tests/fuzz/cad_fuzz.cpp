// Entry for libFuzzer (tests/fuzz/run): STEP, IGES and BREP as a user's file, by the library, in
// the child process that the program reads them in. What the child finds no sanitizer sees; what
// counts is that it is told, ends within its limits, and that the parent may then read the same
// bytes.
#include <cstdint>
#include <cstdlib>
#include <string>

#include "core/hull/cad_shape.h"
#include "core/hull/read_limits.h"
#include "tests/fuzz/mutate_step.h"

namespace {

tearline::hull::ModelFormat format_of(const std::string& bytes) {
    using tearline::hull::ModelFormat;
    if (bytes.starts_with("ISO-10303")) return ModelFormat::step;
    if (bytes.find("DBRep_Drawable") != std::string::npos ||
        bytes.find("CASCADE Topology") != std::string::npos)
        return ModelFormat::brep;
    return ModelFormat::iges;
}

}  // namespace

extern "C" int LLVMFuzzerInitialize(int*, char***) {
    // What hangs is told as such; a second shows it, and is what a run of such a file costs.
    tearline::hull::read_limits().seconds = 1;
    // Of address space: the sanitizer's shadow is in use already, its allocator takes more.
    tearline::hull::read_limits().gigabytes = 40;
    return 0;
}

extern "C" std::size_t LLVMFuzzerCustomMutator(std::uint8_t* data, std::size_t size,
                                               std::size_t most, unsigned start) {
    return tearline::fuzz::mutated(data, size, most, start, tearline::fuzz::change_step);
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string bytes(reinterpret_cast<const char*>(data), size);
    const auto shape = tearline::hull::read_cad_shape({"fuzz.model", bytes, format_of(bytes)});
    const bool told = shape || shape.error().message().starts_with("hull.model: fuzz.model: ") ||
                      shape.error().message().starts_with("hull.model fuzz.model: ");
    if (!told || (shape && shape->faces <= 0)) std::abort();
    return 0;
}
