// The reading library may fall over what it does not expect, so each damaged STEP file is read in
// a process of its own.
#include "tests/fuzz/step_fuzz.h"

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/hull/read_hull.h"
#include "tests/fuzz/replay.h"
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

TEST(StepFuzz, FlawsOfTheStructureAreOneSentenceWithALineThatIsThere) {
    replay("step", step_scan_holds, 5);
    replay_damaged("step", step_scan_holds, 33071, 6000,
                   {"#1", "#", "'", "/*", "*/", "(", ")", ";", "=", "\n", "1.E999",
                    "#99999999999999999999", "ENDSEC;", "\xff"});
}

// What brought a reader down or held it up, kept by tests/fuzz/run: bytes as STEP, IGES or BREP.
TEST(CadFuzz, CorpusIsReadOrRefusedAndNeverEndsTheProgram) {
    const test::Folder folder;
    const auto files = corpus_of("cad");
    ASSERT_GE(files.size(), 2u);
    for (std::size_t i = 0; i < files.size(); ++i) {
        const bool brep = files[i].find("CASCADE Topology") != std::string::npos;
        const bool step = files[i].starts_with("ISO-10303");
        const auto model = folder.write(brep ? "c.brep" : step ? "c.step" : "c.igs", files[i]);
        const int answer = answer_of_child(model);
        EXPECT_TRUE(answer == read || answer == refused) << "file " << i << ": answer " << answer;
    }
}

}  // namespace
}  // namespace tearline::fuzz
