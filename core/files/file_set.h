#pragma once
#include <string>
#include <vector>

namespace tearline::files {

/// A file of an output folder before it is written.
struct OutputFile {
    std::string name;  ///< relative to the folder, with '/'
    std::string bytes;
};

using FileSet = std::vector<OutputFile>;

}  // namespace tearline::files
