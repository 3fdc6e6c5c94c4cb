// The reading library may fall over what it does not expect, so each damaged STEP file is read in
// a process of its own.
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/hull/read_hull.h"
#include "tests/fuzz/damage_bytes.h"
#include "tests/support/mesh_files.h"

namespace tearline::fuzz {
namespace {

enum Answer { read = 0, refused = 1, broken = 2 };

/// Reads the model in a child that has 20 s; its answer, or minus the signal that ended it.
int answer_of_child(const std::filesystem::path& model) {
    const pid_t child = fork();
    if (child == 0) {
        const rlimit no_core{0, 0};
        setrlimit(RLIMIT_CORE, &no_core);
        alarm(20);
        try {
            job::HullOptions options;
            options.model = model;
            options.outward = "as modelled";
            const auto hull = hull::read_hull(options, job::Side::outside);
            if (hull) _exit(hull->triangles.empty() ? broken : read);
            _exit(hull.error().message().starts_with("hull.") ? refused : broken);
        } catch (...) {
            _exit(broken);
        }
    }
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

TEST(StepFuzz, DamagedFilesAreReadOrRefusedAndNeverEndTheProgram) {
    constexpr unsigned start = 90417;
    RecordProperty("start_value", start);
    std::mt19937 random(start);
    const std::vector<std::string> scraps = {
        "#1",  "#12", "$",      "*",   "(",  ")",     ",",    ";",   "'",     "1.",
        "-1.", "0",   "1.E308", ".T.", "()", "#3,#4", "\xff", "NAN", "PLANE", "CARTESIAN_POINT"};
    const test::Folder folder;
    int count_read = 0, count_refused = 0;
    for (int run = 0; run < 240; ++run) {
        const char* names[] = {"cylinder.step", "curlew-half.step", "wigley.step"};
        const std::string whole = bytes_of(std::string(TEARLINE_SAMPLES) + "/" + names[run % 3]);
        const auto model = folder.write("damaged.step", damaged(whole, random, scraps));
        const int answer = answer_of_child(model);
        ASSERT_TRUE(answer == read || answer == refused)
            << "start value " << start << " run " << run << " of " << names[run % 3] << ": answer "
            << answer;
        ++(answer == read ? count_read : count_refused);
    }
    EXPECT_GT(count_read, 0);
    EXPECT_GT(count_refused, 0);
}

}  // namespace
}  // namespace tearline::fuzz
