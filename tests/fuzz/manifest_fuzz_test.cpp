#include "tests/fuzz/manifest_fuzz.h"

#include "tests/fuzz/replay.h"

namespace tearline::fuzz {
namespace {

TEST(ManifestFuzz, CorpusIsReadOrRefusedCleanly) {
    replay("manifest", manifest_holds, 6);
}

TEST(ManifestFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    replay_damaged("manifest", manifest_holds, 22307, 2000,
                   {"\"files\":", "\"..\"", "/", "\\u0000", "18446744073709551615", "-1", "null",
                    "[", "]", "{", "}", ",", "\"name\":\"a/b\"", "\xff"});
}

}  // namespace
}  // namespace tearline::fuzz
