#pragma once
#include <functional>
#include <string>

#include "core/base/result.h"
#include "core/hull/model_file.h"

namespace tearline::hull {

/// Bytes as a file without a name, for a library that reads by path; gone however this process
/// ends.
class MemoryFile {
public:
    /// Empty where the system has no room for it.
    explicit MemoryFile(const std::string& bytes);
    ~MemoryFile();
    MemoryFile(const MemoryFile&) = delete;
    MemoryFile& operator=(const MemoryFile&) = delete;
    [[nodiscard]] bool is_there() const { return number_ >= 0; }
    [[nodiscard]] std::string path() const;

private:
    int number_ = -1;
};

/// Reads a CAD file in a child process, within read_limits(): the library that reads it may fall
/// over a damaged file, run for ever or take all memory. The child is a copy of this process, or,
/// once threads have run, this program started anew, and dies with it.
/// @return  what the child handed over
/// @error bad_input       what the child refused it for; it fell, or took too long
/// @error no_safe_answer  it took too much memory, or no process is to be had
[[nodiscard]] Result<std::string> read_in_child(const ModelFile& file);

/// What the child does: reads the model. Told what it suspects before each step that it may not
/// survive.
/// @return  bytes to hand over to the parent
using Suspect = std::function<void(const std::string&)>;
[[nodiscard]] Result<std::string> read_for_parent(const ModelFile& file, const Suspect& suspect);

}  // namespace tearline::hull
