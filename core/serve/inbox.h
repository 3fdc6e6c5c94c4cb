#pragma once
#include <condition_variable>
#include <cstdint>
#include <deque>
#include <iosfwd>
#include <map>
#include <mutex>

#include "core/serve/message.h"

namespace tearline::serve {

/// Requests between the thread that reads the pipe and the one that works.
///
/// Reading goes on while a plan is being worked out, so that "cancel" is heard.
class Inbox {
public:
    /// Takes a request in. Beyond what it has room for, only the header of one is kept, as
    /// `crowded`, and beyond as many again the one who pushes waits.
    void push(Incoming incoming);
    /// The oldest request; waits for one.
    Incoming pop();

private:
    std::mutex mutex_;
    std::condition_variable arrived_;
    std::condition_variable taken_;
    std::deque<Incoming> queue_;
    std::size_t bytes_ = 0;  ///< of the bodies in the queue
};

/// Which of the requests that are not answered yet the other side no longer wants. An id that is
/// answered is forgotten: it may come again, and cancels nothing then.
class Cancelled {
public:
    void expect(std::int64_t id);  ///< a request of that id has come
    void add(std::int64_t id);     ///< no longer wanted; nothing where none is expected
    void forget(std::int64_t id);  ///< a request of that id is answered
    bool contains(std::int64_t id);

private:
    struct Requests {
        int open = 0;
        int cancelled = 0;  ///< the first so many of them: those that had come by then
    };
    std::mutex mutex_;
    std::map<std::int64_t, Requests> ids_;
};

/// Reads until the pipe ends; hears "cancel" at once, hands the rest on.
void read_all(std::istream& in, Inbox& inbox, Cancelled& cancelled);

}  // namespace tearline::serve
