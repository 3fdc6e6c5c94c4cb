#pragma once
#include <string_view>

/// The parts of a page that are the same in each, put in when the program is built.
namespace tearline::page {

[[nodiscard]] std::string_view three_script();  ///< three.js, minified, as Debian has it
[[nodiscard]] std::string_view three_licence();
[[nodiscard]] std::string_view page_script();
[[nodiscard]] std::string_view page_style();
[[nodiscard]] std::string_view page_body();

}  // namespace tearline::page
