#pragma once

namespace tearline {

/// Whether memory ran out on this thread while a library worked that may keep it to itself and
/// answer with less than it was asked for, or free twice what it was building (Clipper does both).
/// So a small reserve is given out when memory ends, for the library to come to its own end, and
/// the lack is told by check().
class AllocationWatch {
public:
    /// Begins here.
    /// @throws std::bad_alloc  when there is none for the reserve
    AllocationWatch();
    ~AllocationWatch();
    AllocationWatch(const AllocationWatch&) = delete;
    AllocationWatch& operator=(const AllocationWatch&) = delete;
    /// @throws std::bad_alloc  when an allocation failed since
    void check() const;

private:
    unsigned long before_;
};

}  // namespace tearline
