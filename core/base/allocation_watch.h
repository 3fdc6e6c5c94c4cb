#pragma once

namespace tearline {

/// Whether memory ran out on this thread while a library worked that may keep it to itself and
/// answer with less than it was asked for.
class AllocationWatch {
public:
    AllocationWatch();  ///< begins here
    /// @throws std::bad_alloc  when an allocation failed since
    void check() const;

private:
    unsigned long before_;
};

}  // namespace tearline
