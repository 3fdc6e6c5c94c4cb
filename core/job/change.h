#pragma once
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "core/base/result.h"
#include "core/job/node.h"

namespace tearline::job {

/// A key of a job file that is to have another value, as a person writes both.
struct Change {
    std::string key;   ///< "scarf.ratio"
    std::string text;  ///< of the value: TOML, or bare words, "smallest first"
};

using Changes = std::vector<Change>;

/// A key with the values that it is to have in turn.
struct Variation {
    std::string key;
    std::vector<std::string> values;  ///< one or more, each as it was written
};

/// Reads "scarf.ratio=8,12,20": values are parted at commas outside brackets and quotes.
///
/// @return  or what is wrong with the words
[[nodiscard]] tl::expected<Variation, std::string> read_variation(std::string_view words);

/// A value as TOML, or where it is none as the text that it is.
[[nodiscard]] Node value_of(std::string_view text);

/// Sets the values of keys in the tree of a job file; tables on the way there are made. A way of
/// saying one thing replaces the others that stand in the file, as in a [[repair]]: a stack the
/// fill, a centre the outline. Two that are varied both stay, and are refused like those of a file.
///
/// @error bad_input  what a key leads through is no table
[[nodiscard]] Result<void> apply_changes(Node& root, const Changes& changes);

}  // namespace tearline::job
