#pragma once

namespace tearline {

/// [bytes] of address space that this process has already, the heap's reserve given
/// back: what a limit of its own comes on top of.
[[nodiscard]] double address_space_now();

}  // namespace tearline
