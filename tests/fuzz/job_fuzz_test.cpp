#include "tests/fuzz/job_fuzz.h"

#include "tests/fuzz/replay.h"

namespace tearline::fuzz {
namespace {

TEST(JobFuzz, CorpusIsReadOrRefusedCleanly) {
    replay("job", job_reader_holds, 10);
}

TEST(JobFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    replay_damaged("job", job_reader_holds, 77001, 4000,
                   {"nan", "inf", "-1", "1e308", "[", "]", "{", "}", "=", "\"", "\n", "[[", ".",
                    ",", "#", "'''", "true", "\xff", "0x7fffffffffffffff"});
}

}  // namespace
}  // namespace tearline::fuzz
