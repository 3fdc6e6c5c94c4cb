#pragma once
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <iosfwd>
#include <mutex>
#include <vector>

#include "core/serve/message.h"

namespace tearline::serve {

/// Requests between the thread that reads the pipe and the one that works.
///
/// Reading goes on while a plan is being worked out, so that "cancel" is heard.
class Inbox {
public:
    void push(Incoming incoming);
    /// The oldest request; waits for one.
    Incoming pop();

private:
    std::mutex mutex_;
    std::condition_variable arrived_;
    std::deque<Incoming> queue_;
};

/// Which requests the other side no longer wants.
class Cancelled {
public:
    void add(std::int64_t id);
    bool contains(std::int64_t id);

private:
    std::mutex mutex_;
    std::vector<std::int64_t> ids_;
};

/// Reads until the pipe ends; hears "cancel" at once, hands the rest on.
void read_all(std::istream& in, Inbox& inbox, Cancelled& cancelled);

}  // namespace tearline::serve
