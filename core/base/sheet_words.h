#pragma once
#include <array>
#include <cstddef>
#include <string>
#include <vector>

namespace tearline {

/// Text broken into lines of at most `letters` letters, at spaces; a word that is longer within
/// itself, with a hyphen.
[[nodiscard]] std::vector<std::string> broken(const std::string& text, std::size_t letters);

/// At most so many letters of a text, with an ellipsis in the place of more.
[[nodiscard]] std::string shortened(const std::string& text, std::size_t letters);

/// The name of a job or a cloth as templates show it, on at most two lines.
[[nodiscard]] std::vector<std::string> name_lines(const std::string& name);

/// What stands on the grind guide beside its rings, in the order of reading.
///
/// @param title         of the job
/// @param model_sha256  or its beginning
[[nodiscard]] std::vector<std::string> guide_words(const std::string& title,
                                                   const std::string& model_sha256);

[[nodiscard]] std::string in_capitals(std::string words);  ///< plain letters alone change

/// What a quarter turn each points to: "aft at 0°, up at 90°, ...".
///
/// @param ends  words for right, top, left, bottom of the paper
[[nodiscard]] std::string quarter_words(const std::array<std::string, 4>& ends);

/// Said where a sheet shows the laying side.
inline constexpr const char* face_words = "THIS FACE TOWARDS YOU";
/// The same of a sheet turned over.
inline constexpr const char* mirrored_face_words = "MIRRORED: THIS FACE TO THE HULL";

}  // namespace tearline
