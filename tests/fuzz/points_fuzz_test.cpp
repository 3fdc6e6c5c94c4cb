#include "tests/fuzz/points_fuzz.h"

#include "tests/fuzz/replay.h"

namespace tearline::fuzz {
namespace {

TEST(PointsFuzz, CorpusIsReadOrRefusedCleanly) {
    replay("points", scan_readers_hold, 6);
}

TEST(PointsFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    replay_damaged("points", scan_readers_hold, 61103, 6000,
                   {"nan", "inf", "-1e400", "1e308", ";", ",", "\n", "#", "1 2 3\n", "\t", "\xff",
                    std::string(4, '\0'), "element vertex 4294967295\n",
                    "property list uchar int vertex_indices\n"});
}

}  // namespace
}  // namespace tearline::fuzz
