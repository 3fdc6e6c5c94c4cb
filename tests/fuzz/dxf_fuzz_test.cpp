#include "tests/fuzz/dxf_fuzz.h"

#include "tests/fuzz/replay.h"

namespace tearline::fuzz {
namespace {

TEST(DxfFuzz, CorpusIsReadOrRefusedCleanly) {
    replay("dxf", dxf_reader_holds, 4);
}

TEST(DxfFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    replay_damaged("dxf", dxf_reader_holds, 77003, 2400,
                   {"nan\n", "-1\n", "1e308\n", "0\nVERTEX\n", "42\n9\n", "\n", "0\nEOF\n",
                    "70\n1\n", "\r", "0\nLINE\n"});
}

}  // namespace
}  // namespace tearline::fuzz
