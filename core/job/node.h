#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace tearline::job {

/// One value of a job file with the line it stands on; a table's items carry their keys. Files hold
/// no `nothing`: it is what the effective job says of a key that has no value.
struct Node {
    enum class Kind { table, array, text, number, boolean, time, nothing };

    Kind kind = Kind::table;
    std::string key{};     ///< in a table
    int line = 1;          ///< [-] from 1
    double number = 0.0;   ///< a TOML integer or float; may be NaN or infinite
    bool integer = false;  ///< it was written without a point
    bool truth = false;
    std::string text{};
    std::vector<Node> items{};  ///< of a table in the order of lines, or of an array

    [[nodiscard]] static Node nothing() { return {.kind = Kind::nothing}; }

    /// The item of a table with this key, or nullptr.
    [[nodiscard]] const Node* find(std::string_view name) const;

    /// The value as a person would write it, shortened, for messages.
    [[nodiscard]] std::string shown() const;
};

/// Text with control characters escaped, shortened to a length [bytes] that fits a message.
[[nodiscard]] std::string quotable(std::string_view text, std::size_t longest = 60);

}  // namespace tearline::job
