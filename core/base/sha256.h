#pragma once
#include <string>
#include <string_view>

namespace tearline {

/// SHA-256 of the bytes, as 64 lower-case hexadecimal digits.
///
/// @source  FIPS 180-4, section 6.2
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

}  // namespace tearline
