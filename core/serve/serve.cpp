#include "core/serve/serve.h"

#include <istream>
#include <memory>
#include <thread>

#include "core/serve/answer_requests.h"
#include "core/serve/inbox.h"

namespace tearline::serve {

int serve(std::istream& in, std::ostream& out) {
    // Shared with the reader, which may wait on the pipe for ever and is left to end with the
    // process.
    struct Shared {
        Inbox inbox;
        Cancelled cancelled;
    };
    const auto shared = std::make_shared<Shared>();
    // A tied input flushes the output from the reading thread, in the middle of an answer.
    in.tie(nullptr);
    std::thread([&in, shared] { read_all(in, shared->inbox, shared->cancelled); }).detach();
    RequestAnswerer answerer(out, shared->cancelled);
    while (out) {
        const Incoming incoming = shared->inbox.pop();
        switch (incoming.kind) {
            case Incoming::Kind::end:
                return 0;
            case Incoming::Kind::malformed:
            case Incoming::Kind::broken:
                answerer.complain(incoming.complaint);
                if (incoming.kind == Incoming::Kind::broken) return 3;
                break;
            case Incoming::Kind::crowded:
                answerer.turn_away(incoming.message);
                break;
            case Incoming::Kind::message:
                if (!answerer.answer(incoming.message)) return 0;
        }
    }
    return 3;  // nobody listens any more: what still waits is not worked out
}

}  // namespace tearline::serve
