#pragma once
#include <string>
#include <string_view>

namespace tearline::page {

/// Bytes as text of letters, digits, '+' and '/', padded with '='.
///
/// @source  RFC 4648, section 4
[[nodiscard]] std::string base64(std::string_view bytes);

}  // namespace tearline::page
