#include "core/files/replace_folder.h"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <fstream>
#include <iterator>
#include <set>
#include <vector>

#include "core/files/manifest.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

/// A folder of its own for each test, taken away at the end.
class ReplaceFolder : public testing::Test {
protected:
    void SetUp() override {
        const std::string name = testing::UnitTest::GetInstance()->current_test_info()->name();
        room = fs::temp_directory_path() / ("tearline-test-" + std::to_string(getpid()) + name);
        fs::create_directories(room);
    }
    void TearDown() override { fs::remove_all(room); }

    /// What stands in the room, relative names; the promise is "and nothing beside it".
    std::set<std::string> standing() const {
        std::set<std::string> names;
        for (const auto& entry : fs::recursive_directory_iterator(room))
            names.insert(entry.path().lexically_relative(room).generic_string());
        return names;
    }
    static std::string read(const fs::path& file) {
        std::ifstream in(file, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    static void write(const fs::path& file, const std::string& text) {
        std::ofstream(file) << text;
    }

    fs::path room;
    const FileSet one = {{"plan.json", "one"}, {"pieces/1A.bin", "first"}};
    const FileSet two = {{"plan.json", "two"}};
};

}  // namespace

TEST_F(ReplaceFolder, MakesAnAbsentFolder) {
    ASSERT_TRUE(replace_folder(room / "out", one));
    EXPECT_EQ(standing(), (std::set<std::string>{"out", "out/manifest.json", "out/pieces",
                                                 "out/pieces/1A.bin", "out/plan.json"}));
    EXPECT_EQ(read(room / "out/pieces/1A.bin"), "first");
}

TEST_F(ReplaceFolder, TakesAnEmptyFolder) {
    fs::create_directory(room / "out");
    ASSERT_TRUE(replace_folder(room / "out", one));
    EXPECT_EQ(read(room / "out/plan.json"), "one");
}

TEST_F(ReplaceFolder, ReplacesAnEarlierPlanWithoutRemains) {
    ASSERT_TRUE(replace_folder(room / "out", one));
    ASSERT_TRUE(replace_folder(room / "out/", two));
    EXPECT_EQ(standing(), (std::set<std::string>{"out", "out/manifest.json", "out/plan.json"}));
    EXPECT_EQ(read(room / "out/plan.json"), "two");
}

TEST_F(ReplaceFolder, RefusesAForeignFileAndNamesIt) {
    ASSERT_TRUE(replace_folder(room / "out", one));
    write(room / "out/pieces/my notes.txt", "mine");
    const auto result = replace_folder(room / "out", two);
    ASSERT_FALSE(result);
    EXPECT_EQ(result.error().kind, ErrorKind::output_failed);
    EXPECT_NE(result.error().message().find("pieces/my notes.txt"), std::string::npos);
    EXPECT_EQ(read(room / "out/plan.json"), "one");
    EXPECT_EQ(read(room / "out/pieces/my notes.txt"), "mine");
    EXPECT_EQ(standing().size(), 6u);
}

TEST_F(ReplaceFolder, RefusesAnEditedFileAndNamesIt) {
    ASSERT_TRUE(replace_folder(room / "out", one));
    write(room / "out/plan.json", "onE");
    const auto result = replace_folder(room / "out", two);
    ASSERT_FALSE(result);
    EXPECT_NE(result.error().message().find("plan.json: was changed"), std::string::npos);
    EXPECT_EQ(read(room / "out/plan.json"), "onE");
}

TEST_F(ReplaceFolder, RefusesAFolderThatIsNotOurs) {
    fs::create_directory(room / "out");
    write(room / "out/zebra.svg", "");
    write(room / "out/ant.svg", "");
    const auto result = replace_folder(room / "out", one);
    ASSERT_FALSE(result);
    EXPECT_NE(result.error().message().find("ant.svg"), std::string::npos)
        << result.error().message();
    EXPECT_EQ(standing().size(), 3u);
}

TEST_F(ReplaceFolder, RefusesAManifestThatIsNotOurs) {
    fs::create_directory(room / "out");
    for (const char* text :
         {"", "[]", "{\"schema\": 3}", "{\"schema\": \"tearline-manifest/1\"}"}) {
        write(room / "out/manifest.json", text);
        const auto result = replace_folder(room / "out", one);
        ASSERT_FALSE(result) << text;
        EXPECT_NE(result.error().message().find("manifest.json"), std::string::npos);
    }
}

TEST_F(ReplaceFolder, RefusesAFileInTheFoldersPlace) {
    write(room / "out", "a file");
    EXPECT_FALSE(replace_folder(room / "out", one));
    EXPECT_EQ(read(room / "out"), "a file");
}

TEST_F(ReplaceFolder, FollowsALinkAndKeepsIt) {
    fs::create_directory(room / "real");
    fs::create_directory_symlink(room / "real", room / "out");
    ASSERT_TRUE(replace_folder(room / "out", one));
    EXPECT_TRUE(fs::is_symlink(room / "out"));
    EXPECT_EQ(read(room / "real/plan.json"), "one");
}

TEST_F(ReplaceFolder, LeavesNothingWhenWritingFails) {
    // A name longer than any file system takes stands for a full or failing disk.
    const FileSet bad = {{"plan.json", "x"}, {std::string(300, 'n'), "y"}};
    const auto result = replace_folder(room / "new parent/out", bad);
    ASSERT_FALSE(result);
    EXPECT_EQ(result.error().kind, ErrorKind::output_failed);
    EXPECT_TRUE(standing().empty());
}

TEST_F(ReplaceFolder, KeepsTheEarlierPlanWhenWritingFails) {
    ASSERT_TRUE(replace_folder(room / "out", one));
    ASSERT_FALSE(replace_folder(room / "out", {{std::string(300, 'n'), "y"}}));
    EXPECT_EQ(read(room / "out/plan.json"), "one");
    EXPECT_EQ(standing().size(), 5u);
}

TEST_F(ReplaceFolder, WritesNamesWithSpacesAndLettersOfAnyLanguage) {
    const fs::path folder = room / "Möwe 6 m – Rümpf" / "überblick";
    ASSERT_TRUE(replace_folder(folder, one));
    EXPECT_EQ(read(folder / "plan.json"), "one");
}

TEST_F(ReplaceFolder, CleansUpWhenASignalComes) {
    // Many files, so that the signal arrives while they are being written.
    FileSet many;
    for (int i = 0; i < 4000; ++i) many.push_back({"pieces/" + std::to_string(i), "bytes"});
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        const auto result = replace_folder(room / "out", many);
        _exit(result ? 0 : 5);
    }
    while (standing().size() < 20) usleep(200);
    kill(child, SIGTERM);
    int status = 0;
    waitpid(child, &status, 0);
    EXPECT_TRUE(WIFSIGNALED(status) && WTERMSIG(status) == SIGTERM) << status;
    EXPECT_TRUE(standing().empty());
}

TEST_F(ReplaceFolder, RunsAtOnceEitherWriteOrSayThatAnotherDoes) {
    // Four processes, each with files of its own, over and over into one folder that is absent at
    // first. The sentence is handed over by a file beside the room's folder.
    std::vector<pid_t> children;
    for (int k = 0; k < 4; ++k) {
        children.push_back(fork());
        ASSERT_GE(children.back(), 0);
        if (children.back() != 0) continue;
        FileSet files;
        for (int i = 0; i < 20; ++i)
            files.push_back({"pieces/" + std::to_string(k) + "-" + std::to_string(i), "bytes"});
        for (int round = 0; round < 10; ++round) {
            const auto result = replace_folder(room / "out", files);
            if (result || result.error().message().find("another run") != std::string::npos)
                continue;
            write(room / ("said-" + std::to_string(k)), result.error().message());
            _exit(5);
        }
        _exit(0);
    }
    for (std::size_t k = 0; k < children.size(); ++k) {
        int status = 0;
        waitpid(children[k], &status, 0);
        EXPECT_EQ(status, 0) << read(room / ("said-" + std::to_string(k)));
    }
    EXPECT_TRUE(check_ours(room / "out"));
}

TEST_F(ReplaceFolder, SweepsWhatAKilledRunLeftBesideOneFolderAlone) {
    const fs::path left = room / (work_stem(room / "out") + "0123456789abcdef.new");
    const fs::path of_another = room / (work_stem(room / "other") + "0123456789abcdef.new");
    for (const fs::path& folder : {left, of_another}) {
        EXPECT_TRUE(is_work_name(folder.filename().string()));
        fs::create_directories(folder);
        write(folder / "plan.json", "half");
    }
    ASSERT_TRUE(sweep_beside(room / "out"));
    EXPECT_FALSE(fs::exists(left));
    EXPECT_TRUE(fs::exists(of_another));
}

TEST_F(ReplaceFolder, TakesAFolderOfOursAwayAndNoOther) {
    EXPECT_TRUE(remove_folder(room / "out"));
    ASSERT_TRUE(replace_folder(room / "out", one));
    write(room / "out/plan.json", "mine");
    const auto edited = remove_folder(room / "out");
    ASSERT_FALSE(edited);
    EXPECT_NE(edited.error().message().find("plan.json"), std::string::npos);
    write(room / "out/plan.json", "one");
    EXPECT_TRUE(remove_folder(room / "out"));
    EXPECT_TRUE(standing().empty());
}

TEST(Manifest, ListsEachFileWithItsHash) {
    // Hash of "abc": FIPS 180-4 example.
    const std::string json = manifest_json({{"b", "abc"}, {"a", ""}});
    EXPECT_NE(
        json.find("{\"name\":\"b\",\"bytes\":3,\"sha256\":\"ba7816bf8f01cfea414140de5dae2223"),
        std::string::npos);
    EXPECT_LT(json.find("\"name\":\"a\""), json.find("\"name\":\"b\""));
}

TEST_F(ReplaceFolder, TellsBeforeTheWorkWhatWillBeInTheWay) {
    EXPECT_TRUE(check_folder(room / "out"));
    EXPECT_TRUE(check_folder(room / "not/there/yet"));
    ASSERT_TRUE(replace_folder(room / "out", one));
    EXPECT_TRUE(check_folder(room / "out"));
    write(room / "out/notes.txt", "mine");
    write(room / "file", "mine");
    const std::set<std::string> before = standing();
    for (const fs::path& taken : {room / "out", room / "file", room / "file/out", fs::path()}) {
        const auto result = check_folder(taken);
        ASSERT_FALSE(result) << taken;
        EXPECT_EQ(result.error().kind, ErrorKind::output_failed);
    }
    EXPECT_EQ(standing(), before);
}

TEST_F(ReplaceFolder, ClearsWhatAKilledRunLeft) {
    // Killed while it wrote: its working folder is the one that stands beside.
    const pid_t child = fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
        FileSet many;
        for (int i = 0; i < 4000; ++i) many.push_back({"pieces/" + std::to_string(i), "bytes"});
        _exit(replace_folder(room / "out", many) ? 0 : 5);
    }
    while (standing().size() < 20) usleep(200);
    kill(child, SIGKILL);
    waitpid(child, nullptr, 0);
    ASSERT_GE(standing().size(), 20u);
    const fs::path left = room / *standing().begin();
    EXPECT_TRUE(left.filename().string().starts_with(".tearline-")) << left;
    // Others' folders, of another output and of nobody's, are left alone.
    ASSERT_TRUE(replace_folder(room / "other", one));
    EXPECT_TRUE(fs::exists(left));
    fs::create_directory(room / ".out.1234.new");
    ASSERT_TRUE(replace_folder(room / "out", two));
    EXPECT_FALSE(fs::exists(left));
    EXPECT_TRUE(fs::exists(room / ".out.1234.new"));
}

TEST_F(ReplaceFolder, WaitsForAnotherRunAndNoLongerThanItIsTold) {
    using namespace std::chrono_literals;
    const int held = open(room.c_str(), O_RDONLY);
    ASSERT_EQ(flock(held, LOCK_EX), 0);
    const auto begun = std::chrono::steady_clock::now();
    const auto result = replace_folder(room / "out", one, 200ms);
    ASSERT_FALSE(result);
    EXPECT_NE(result.error().message().find("another run"), std::string::npos);
    EXPECT_GE(std::chrono::steady_clock::now() - begun, 200ms);
    EXPECT_TRUE(standing().empty());
    close(held);
    EXPECT_TRUE(replace_folder(room / "out", one, 200ms));
}

TEST_F(ReplaceFolder, TakesNamesAsLongAsTheFileSystemDoes) {
    const fs::path folder = room / std::string(255, 'n');
    ASSERT_TRUE(replace_folder(folder, one));
    ASSERT_TRUE(replace_folder(folder, two));
    EXPECT_EQ(read(folder / "plan.json"), "two");
}

}  // namespace tearline::files
