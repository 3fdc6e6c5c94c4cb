#pragma once

namespace tearline::formats {

/// The most characters that write_number() needs.
inline constexpr int number_room = 32;

/// Writes a finite number with 12 significant digits, without zeros at their end, the way
/// std::to_chars does in its general format: the same characters, but most numbers sooner.
///
/// @param to  room for number_room characters
/// @return    behind the last of them
char* write_number(char* to, double number);

}  // namespace tearline::formats
