#include "tests/fuzz/messages_fuzz.h"

#include "tests/fuzz/replay.h"

namespace tearline::fuzz {
namespace {

TEST(MessagesFuzz, CorpusIsReadOrRefusedCleanly) {
    replay("messages", conversation_holds, 6);
}

TEST(MessagesFuzz, DamagedCorpusIsReadOrRefusedCleanly) {
    replay_damaged("messages", conversation_holds, 40811, 6000,
                   {"\n", "{}", "{\"bytes\":0}\n", "\"bytes\":", "18446744073709551615", "-1",
                    "1e3", "null", "\"", "\\u0000", "\xff", "[", "}"});
}

}  // namespace
}  // namespace tearline::fuzz
