#include "tests/fuzz/mesh_fuzz.h"

#include "tests/fuzz/replay.h"

namespace tearline::fuzz {
namespace {

TEST(MeshFuzz, CorpusIsReadOrRefusedCleanly) {
    replay("mesh", mesh_readers_hold, 10);
}

TEST(MeshFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    replay_damaged("mesh", mesh_readers_hold, 51207, 6000,
                   {"nan", "inf", "-1", "1e308", "4294967295", "vertex ", "f 1 2 3\n", "\n", "3 ",
                    "e", std::string(4, '\xff'), std::string("\0\0\x80\x7f", 4),
                    std::string("\0\0\xc0\x7f", 4), std::string(50, '\0')});
}

}  // namespace
}  // namespace tearline::fuzz
