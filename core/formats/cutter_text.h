#pragma once
#include <cstddef>
#include <string>
#include <string_view>

namespace tearline::formats {

/// Bytes that a line of text in a DXF file may have (the reference of R12, from memory).
inline constexpr std::size_t longest_dxf_text = 255;

/// Text for a DXF file: characters beyond ASCII as \U+XXXX, which every reader since R12 knows; as
/// many whole ones as have room.
[[nodiscard]] std::string dxf_text(std::string_view utf8);

/// Text for a plotter: plain ASCII, with the nearest letters for those of Western alphabets.
[[nodiscard]] std::string plain_text(std::string_view utf8);

/// A name for a block or layer: capital letters, digits, '-' and '_' only.
[[nodiscard]] std::string symbol_name(std::string_view text);

}  // namespace tearline::formats
