#include "core/files/entries.h"

#include <gtest/gtest.h>

#include "tests/support/mesh_files.h"

namespace tearline::files {
namespace {

namespace fs = std::filesystem;
using Names = std::vector<std::string>;

TEST(Entries, AreSortedAndHoldNeitherTheFolderNorItsParent) {
    const test::Folder room;
    const fs::path folder = room.write("b", "").parent_path();
    room.write("a", "");
    room.write(".hidden", "");
    EXPECT_EQ(entries_of(folder), (Names{".hidden", "a", "b"}));
}

TEST(Entries, OfWhatIsNoFolderCannotBeRead) {
    const test::Folder room;
    const fs::path file = room.write("file", "");
    EXPECT_THROW(entries_of(file), fs::filesystem_error);
    std::error_code failed;
    EXPECT_EQ(entries_of(file.parent_path() / "none", failed), Names{});
    EXPECT_EQ(failed, std::errc::no_such_file_or_directory);
}

TEST(RemoveTree, TakesAllAwayAndALinkButNotWhatItLeadsTo) {
    const test::Folder room;
    const fs::path kept = room.write("kept", "a person's"), tree = kept.parent_path() / "tree";
    fs::create_directories(tree / "in" / "deeper");
    room.write("tree/in/deeper/file", "");
    fs::create_directory_symlink(kept.parent_path(), tree / "in" / "link");
    EXPECT_FALSE(remove_tree(tree));
    EXPECT_FALSE(fs::exists(tree));
    EXPECT_TRUE(fs::exists(kept));
    EXPECT_EQ(remove_tree(tree), std::errc::no_such_file_or_directory);
}

}  // namespace
}  // namespace tearline::files
