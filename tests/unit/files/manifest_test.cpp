#include "core/files/manifest.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>

#include "core/base/sha256.h"
#include "core/files/replace_folder.h"

namespace tearline::files {

namespace fs = std::filesystem;

namespace {

class ManifestOfAFolder : public testing::Test {
protected:
    void SetUp() override {
        const std::string name = testing::UnitTest::GetInstance()->current_test_info()->name();
        room = fs::temp_directory_path() / ("tearline-manifest-" + std::to_string(getpid()) + name);
        fs::create_directories(room);
        folder = room / "out";
    }
    void TearDown() override {
        fs::permissions(folder, fs::perms::owner_all, ignored);
        fs::remove_all(room);
    }
    static void write(const fs::path& file, const std::string& text) {
        fs::create_directories(file.parent_path());
        std::ofstream(file, std::ios::binary) << text;
    }
    /// Text that is an object without its closing brace, sealed as the program seals.
    static std::string sealed(const std::string& text) {
        return text + ",\n\"seal\":\"" + sha256_hex(text) + "\"}\n";
    }
    /// A manifest of the given names and contents.
    void claim(const std::vector<std::pair<std::string, std::string>>& files) {
        nlohmann::json json = {{"schema", "tearline-manifest/1"},
                               {"files", nlohmann::json::array()}};
        for (const auto& [name, bytes] : files)
            json["files"].push_back(
                {{"name", name}, {"bytes", bytes.size()}, {"sha256", sha256_hex(bytes)}});
        std::string text = json.dump();
        text.pop_back();
        write(folder / "manifest.json", sealed(text));
    }
    std::string refusal() {
        const auto ours = check_ours(folder);
        return ours ? "" : ours.error().message();
    }

    std::error_code ignored;
    fs::path room, folder;
};

}  // namespace

TEST_F(ManifestOfAFolder, IsReadBackByAnotherParserWithEveryFile) {
    const FileSet files = {
        {"b/c.bin", std::string("\0\xff", 2)}, {"a.txt", "alpha"}, {"empty", ""}};
    const auto json = nlohmann::json::parse(manifest_json(files));
    EXPECT_EQ(json["schema"], "tearline-manifest/1");
    ASSERT_EQ(json["files"].size(), 3u);
    EXPECT_EQ(json["files"][0]["name"], "a.txt") << "sorted by name";
    EXPECT_EQ(json["files"][1]["name"], "b/c.bin");
    EXPECT_EQ(json["files"][1]["bytes"], 2);
    EXPECT_EQ(json["files"][2]["sha256"], sha256_hex(""));
}

TEST_F(ManifestOfAFolder, SaysWhatItsFilesWereMadeFrom) {
    const Origin origin{"1", {}, "2", "3"};
    ASSERT_TRUE(replace_folder(folder, {{"plan.json", "one"}}, default_patience, origin));
    EXPECT_TRUE(check_ours(folder));
    EXPECT_EQ(origin_of(folder), origin);
    std::ifstream in(folder / "manifest.json");
    const auto json = nlohmann::json::parse(in);
    EXPECT_EQ(json["sha256"].dump(), R"({"job":"1","model":null,"options":"2","program":"3"})");
    // Without one, or changed by hand, it says nothing.
    ASSERT_TRUE(replace_folder(folder, {{"plan.json", "one"}}));
    EXPECT_FALSE(origin_of(folder));
    write(folder / "manifest.json", "{}");
    EXPECT_FALSE(origin_of(folder));
    EXPECT_FALSE(origin_of(room / "none"));
}

TEST_F(ManifestOfAFolder, OfAFolderWrittenByUsIsKept) {
    ASSERT_TRUE(replace_folder(folder, {{"plan.json", "one"}, {"deep/down/here.bin", "two"}}));
    EXPECT_TRUE(check_ours(folder));
    EXPECT_TRUE(check_folder(folder));
}

TEST_F(ManifestOfAFolder, NamesTheFirstFileThatIsNotAsItSays) {
    // Alphabetical order: of two that are wrong the first is told.
    write(folder / "a.txt", "changed");
    write(folder / "z.txt", "foreign");
    claim({{"a.txt", "written"}});
    EXPECT_NE(refusal().find("a.txt: was changed"), std::string::npos) << refusal();
    claim({{"a.txt", "changed"}});
    EXPECT_NE(refusal().find("z.txt: was not written by this program"), std::string::npos)
        << refusal();
    claim({{"a.txt", "changed"}, {"z.txt", "foreign"}});
    EXPECT_EQ(refusal(), "");
    claim({{"a.txt", "changed"}, {"m.txt", ""}, {"z.txt", "foreign"}});
    EXPECT_NE(refusal().find("m.txt: is missing"), std::string::npos) << refusal();
}

TEST_F(ManifestOfAFolder, OwnsTheFoldersOfItsFilesAndNoOther) {
    write(folder / "pieces/1A.bin", "x");
    claim({{"pieces/1A.bin", "x"}});
    EXPECT_EQ(refusal(), "");
    fs::create_directory(folder / "mine");
    EXPECT_NE(refusal().find("mine: was not written"), std::string::npos) << "an empty one too";
    fs::remove(folder / "mine");
    fs::create_directory(folder / "pieces2");
    EXPECT_NE(refusal().find("pieces2"), std::string::npos) << "nor one whose name begins alike";
}

TEST_F(ManifestOfAFolder, DoesNotFollowLinks) {
    // What a link leads to is not ours, though its bytes are the same.
    write(room / "elsewhere.txt", "x");
    fs::create_directories(folder);
    fs::create_symlink(room / "elsewhere.txt", folder / "a.txt");
    claim({{"a.txt", "x"}});
    EXPECT_NE(refusal().find("a.txt"), std::string::npos);
    fs::remove(folder / "a.txt");
    write(folder / "a.txt", "x");
    EXPECT_EQ(refusal(), "");
    fs::rename(folder / "manifest.json", room / "manifest.json");
    fs::create_symlink(room / "manifest.json", folder / "manifest.json");
    EXPECT_NE(refusal().find("manifest.json: is no manifest"), std::string::npos) << refusal();
}

TEST_F(ManifestOfAFolder, IsNoneOfOursWhereAnyPartOfItIsWrong) {
    for (const char* text :
         {R"({"schema":"tearline-manifest/2","files":[])", R"({"schema":"tearline-manifest/1")",
          R"({"schema":"tearline-manifest/1","files":{})",
          R"({"schema":"tearline-manifest/1","files":[{"name":"a"}])",
          R"({"schema":"tearline-manifest/1","files":[{"name":"a","sha256":"x"}])",
          R"({"schema":"tearline-manifest/1","files":[{"name":"a","bytes":-1,"sha256":"x"}])",
          R"({"schema":"tearline-manifest/1","files":[{"name":1,"bytes":1,"sha256":"x"}])",
          R"({"schema":"tearline-manifest/1","files":["a"])", "{", "null"}) {
        write(folder / "manifest.json", sealed(text));
        EXPECT_NE(refusal().find("manifest.json: is no manifest"), std::string::npos) << text;
    }
    const std::string good = R"({"schema":"tearline-manifest/1","files":[])";
    write(folder / "manifest.json", sealed(good));
    EXPECT_EQ(refusal(), "");
}

TEST_F(ManifestOfAFolder, SealsItself) {
    ASSERT_TRUE(replace_folder(folder, {{"plan.json", "one"}}));
    std::ifstream in(folder / "manifest.json");
    const std::string text((std::istreambuf_iterator<char>(in)), {});
    // Each byte of it changed to another that may stand there; what is no JSON then is none of
    // ours.
    for (std::size_t i = 0; i < text.size(); ++i) {
        std::string edited = text;
        edited[i] = edited[i] == '7' ? '8' : '7';
        write(folder / "manifest.json", edited);
        EXPECT_NE(refusal().find("manifest.json: "), std::string::npos) << i;
    }
    for (const std::string& edited : {text + " ", text + text, text.substr(0, text.size() - 1)}) {
        write(folder / "manifest.json", edited);
        EXPECT_NE(refusal().find("manifest.json: "), std::string::npos) << edited;
    }
}

TEST_F(ManifestOfAFolder, LeadsNobodyOutOfItsFolder) {
    // A name with .. that lists a file of someone else's: replacing must not touch it.
    write(room / "precious.txt", "mine");
    write(folder / "a.txt", "x");
    for (const std::string name : {"../precious.txt", "/precious.txt", "a/../../precious.txt", "..",
                                   "", ".", "a.txt/", "./a.txt", "b//c", "manifest.json"}) {
        claim({{"a.txt", "x"}, {name, "mine"}});
        EXPECT_NE(refusal().find("manifest.json: lists a name"), std::string::npos) << name;
        EXPECT_FALSE(replace_folder(folder, {{"plan.json", "new"}})) << name;
    }
    std::ifstream in(room / "precious.txt");
    std::string text;
    in >> text;
    EXPECT_EQ(text, "mine");
}

TEST_F(ManifestOfAFolder, KeepsTheFoldersOwnPermissions) {
    ASSERT_TRUE(replace_folder(folder, {{"plan.json", "one"}}));
    const auto wanted = fs::perms::owner_all | fs::perms::group_read | fs::perms::group_exec;
    fs::permissions(folder, wanted);
    ASSERT_TRUE(replace_folder(folder, {{"plan.json", "two"}}));
    EXPECT_EQ(fs::status(folder).permissions(), wanted);
}

TEST_F(ManifestOfAFolder, IsWrittenForNothingToo) {
    ASSERT_TRUE(replace_folder(folder, {}));
    EXPECT_TRUE(check_ours(folder));
    EXPECT_TRUE(fs::exists(folder / "manifest.json"));
}

TEST_F(ManifestOfAFolder, TakesAFolderByAnyOfItsNames) {
    fs::create_directories(room / "sub");
    for (const fs::path& name :
         {room / "out", room / "out/", room / "sub" / ".." / "out", room / "./out"}) {
        ASSERT_TRUE(replace_folder(name, {{"plan.json", name.string()}})) << name;
        EXPECT_TRUE(check_ours(folder));
    }
    std::size_t count = 0;
    for ([[maybe_unused]] const auto& entry : fs::directory_iterator(room)) ++count;
    EXPECT_EQ(count, 2u) << "out and sub, nothing beside them";
}

}  // namespace tearline::files
