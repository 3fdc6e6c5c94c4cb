#pragma once
#include <iosfwd>

namespace tearline::serve {

/// Answers requests of the program that fronts the engine until the pipe closes.
///
/// Requests name themselves in the header: {"id": 1, "request": "plan", "bytes": N}. The first is
/// "hello" with "protocol": 1. Bodies are job files (TOML text) with "file" in the header, the
/// path they are read as if they stood there. See cad-plugin/README.md for every request.
/// @return  0 when the other side closed the pipe or said "bye", 3 when the pipe broke
int serve(std::istream& in, std::ostream& out);

}  // namespace tearline::serve
