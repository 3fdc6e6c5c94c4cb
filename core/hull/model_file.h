#pragma once
#include <cstdint>
#include <filesystem>
#include <string>

#include "core/base/result.h"

namespace tearline::hull {

/// [bytes] no hull's surface takes so much
inline constexpr std::uintmax_t largest_model_file = 4'000'000'000;

enum class ModelFormat { step, iges, brep, stl_ascii, stl_binary, obj, ply, points };

/// A model file in memory, with the format its name and its bytes agree on.
struct ModelFile {
    std::filesystem::path path;
    std::string bytes;
    ModelFormat format = ModelFormat::step;
};

/// Whether the format names its own unit; the others need `hull.unit`.
[[nodiscard]] bool knows_its_unit(ModelFormat format);

/// The format as people write it: "STEP", "STL (binary)", ...
[[nodiscard]] std::string format_name(ModelFormat format);

/// Reads a model file whole and checks that its content is what its name says.
///
/// @error bad_input  missing, a folder, unreadable, empty, an unknown ending, or bytes of another
///                   kind than the ending
[[nodiscard]] Result<ModelFile> read_model_file(const std::filesystem::path& path);

/// An error about the file as a whole: "hull.model: PATH: what is wrong".
[[nodiscard]] tl::unexpected<Error> model_error(const std::filesystem::path& path,
                                                const std::string& what);

}  // namespace tearline::hull
