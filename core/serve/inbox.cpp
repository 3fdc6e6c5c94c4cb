#include "core/serve/inbox.h"

#include <algorithm>
#include <istream>
#include <nlohmann/json.hpp>
#include <utility>

namespace tearline::serve {

void Inbox::push(Incoming incoming) {
    const std::lock_guard lock(mutex_);
    queue_.push_back(std::move(incoming));
    arrived_.notify_one();
}

Incoming Inbox::pop() {
    std::unique_lock lock(mutex_);
    arrived_.wait(lock, [&] { return !queue_.empty(); });
    Incoming first = std::move(queue_.front());
    queue_.pop_front();
    return first;
}

void Cancelled::add(std::int64_t id) {
    const std::lock_guard lock(mutex_);
    ids_.push_back(id);
}

bool Cancelled::contains(std::int64_t id) {
    const std::lock_guard lock(mutex_);
    return std::find(ids_.begin(), ids_.end(), id) != ids_.end();
}

void read_all(std::istream& in, Inbox& inbox, Cancelled& cancelled) {
    for (;;) {
        Incoming incoming = read_message(in);
        if (incoming.kind == Incoming::Kind::message) {
            const auto header = nlohmann::json::parse(incoming.message.header);
            const auto request = header.find("request");
            if (request != header.end() && *request == "cancel") {
                const auto target = header.find("target");
                if (target != header.end() && target->is_number_integer())
                    cancelled.add(target->get<std::int64_t>());
                continue;
            }
        }
        const bool last =
            incoming.kind == Incoming::Kind::end || incoming.kind == Incoming::Kind::broken;
        inbox.push(std::move(incoming));
        if (last) return;
    }
}

}  // namespace tearline::serve
