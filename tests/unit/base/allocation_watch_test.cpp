#include "core/base/allocation_watch.h"

#include <gtest/gtest.h>

#include <new>

namespace tearline {
namespace {

/// As a library does that asks for too much and keeps it to itself.
void lack_memory() {
    try {
        std::get_new_handler()();
    } catch (const std::bad_alloc&) {
    }
}

TEST(AllocationWatch, TellsOfWhatWasLackingSinceItBegan) {
    const AllocationWatch first;
    EXPECT_NO_THROW(first.check());
    lack_memory();
    EXPECT_THROW(first.check(), std::bad_alloc);
    const AllocationWatch second;
    EXPECT_NO_THROW(second.check());
}

TEST(AllocationWatch, GivesItsReserveOnceSoThatALibraryCanEnd) {
    const AllocationWatch memory;
    EXPECT_NO_THROW(std::get_new_handler()());
    EXPECT_THROW(memory.check(), std::bad_alloc);
    EXPECT_THROW(std::get_new_handler()(), std::bad_alloc);
}

TEST(AllocationWatch, KeepsItsReserveWhereNobodyWouldAsk) {
    { const AllocationWatch memory; }
    EXPECT_THROW(std::get_new_handler()(), std::bad_alloc);
}

}  // namespace
}  // namespace tearline
