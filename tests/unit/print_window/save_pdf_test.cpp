#include "cli/print/save_pdf.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

// Where a print goes: a file of a person's is never written over, one of ours whole or not at all.
namespace tearline::cli {
namespace {

namespace fs = std::filesystem;

class SavePdf : public ::testing::Test {
protected:
    SavePdf() {
        const std::string name = ::testing::UnitTest::GetInstance()->current_test_info()->name();
        folder = fs::temp_directory_path() / ("tearline-pdf-" + std::to_string(getpid()) + name);
        fs::create_directories(folder);
    }
    ~SavePdf() override {
        std::error_code ignored;
        fs::remove_all(folder, ignored);
    }
    static void write(const fs::path& file, const std::string& text) {
        std::ofstream(file, std::ios::binary) << text;
    }
    static std::string read(const fs::path& file) {
        std::ifstream in(file, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    [[nodiscard]] std::set<std::string> standing() const {
        std::set<std::string> names;
        for (const auto& entry : fs::directory_iterator(folder))
            names.insert(entry.path().filename().string());
        return names;
    }
    std::string refusal(const std::string& bytes, const fs::path& file) {
        const auto saved = save(bytes, file.string());
        if (saved) return "";
        EXPECT_EQ(saved.error().kind, ErrorKind::output_failed);
        return saved.error().message();
    }

    fs::path folder;
    /// As Qt names the creator: UTF-16 behind its byte order mark.
    const std::string ours =
        std::string("%PDF-1.4\n1 0 obj\n<< /Creator (\xFE\xFF\0t\0e\0a\0r\0l\0i\0n\0e) >>\n", 53);
};

TEST_F(SavePdf, WritesAnewAndOverItsOwn) {
    EXPECT_EQ(refusal(ours + "one", folder / "a.pdf"), "");
    EXPECT_EQ(read(folder / "a.pdf"), ours + "one");
    EXPECT_EQ(refusal(ours + "two", folder / "a.pdf"), "");
    EXPECT_EQ(read(folder / "a.pdf"), ours + "two");
    EXPECT_EQ(standing(), std::set<std::string>{"a.pdf"}) << "and nothing beside it";
}

TEST_F(SavePdf, LeavesWhatIsNotItsOwn) {
    for (const std::string& mine :
         {std::string("my notes"), std::string(), std::string("%PDF-1.7 of another program"),
          "X" + ours, ours.substr(0, ours.size() - 20)}) {
        write(folder / "a.pdf", mine);
        EXPECT_NE(refusal(ours, folder / "a.pdf").find("no PDF of this program"),
                  std::string::npos);
        EXPECT_EQ(read(folder / "a.pdf"), mine);
    }
    fs::create_directory(folder / "b.pdf");
    EXPECT_NE(refusal(ours, folder / "b.pdf").find("is there already"), std::string::npos);
    EXPECT_EQ(standing(), (std::set<std::string>{"a.pdf", "b.pdf"}));
}

TEST_F(SavePdf, IsNotHeldUpByWhatAKilledRunLeft) {
    write(folder / "a.pdf.part", "half");
    write(folder / ".tearline-pdf-1", "half");
    EXPECT_EQ(refusal(ours, folder / "a.pdf"), "");
    EXPECT_EQ(read(folder / "a.pdf"), ours);
    EXPECT_EQ(read(folder / "a.pdf.part"), "half") << "a file of somebody's own, for all we know";
}

TEST_F(SavePdf, WritesWhereALinkLeadsAndKeepsIt) {
    fs::create_directory(folder / "real");
    write(folder / "real/a.pdf", ours + "one");
    fs::create_symlink(folder / "real/a.pdf", folder / "link.pdf");
    EXPECT_EQ(refusal(ours + "two", folder / "link.pdf"), "");
    EXPECT_TRUE(fs::is_symlink(folder / "link.pdf"));
    EXPECT_EQ(read(folder / "real/a.pdf"), ours + "two");
}

TEST_F(SavePdf, SaysWhyItCannotWriteAndLeavesNothing) {
    EXPECT_NE(refusal(ours, folder / "none" / "a.pdf").find("No such file or directory"),
              std::string::npos);
    EXPECT_EQ(refusal(ours, folder / std::string(255, 'n')), "") << "as long as it may be";
    fs::remove(folder / std::string(255, 'n'));
    // A name longer than any file system takes stands for one that refuses.
    EXPECT_NE(refusal(ours, folder / std::string(300, 'n')).find("could not be written: "),
              std::string::npos);
    EXPECT_TRUE(standing().empty());
}

TEST_F(SavePdf, TakesANameInTheFolderThatOneIsIn) {
    const fs::path before = fs::current_path();
    fs::current_path(folder);
    EXPECT_EQ(refusal(ours, "a.pdf"), "");
    fs::current_path(before);
    EXPECT_EQ(standing(), std::set<std::string>{"a.pdf"});
}

}  // namespace
}  // namespace tearline::cli
