#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace tearline::hull {

/// What is wrong with the text of a STEP file, judged by the exchange structure alone.
///
/// The reading library trusts that structure and may fall over a file that breaks it, so it is
/// looked through first: header, data section, every instance closed, every reference defined.
/// @return  a sentence for the user with the line, or nothing
/// @source  ISO 10303-21, clear text encoding
[[nodiscard]] std::optional<std::string> flaw_in_step(std::string_view text);

}  // namespace tearline::hull
