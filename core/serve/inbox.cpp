#include "core/serve/inbox.h"

#include <algorithm>
#include <istream>
#include <nlohmann/json.hpp>
#include <utility>

namespace tearline::serve {

namespace {

constexpr std::size_t most_requests = 256;
constexpr std::size_t most_bytes = std::size_t{256} << 20;  // [bytes] of bodies

}  // namespace

void Inbox::push(Incoming incoming) {
    std::unique_lock lock(mutex_);
    taken_.wait(lock, [&] { return queue_.size() < 2 * most_requests; });
    const bool room =
        queue_.size() < most_requests && bytes_ + incoming.message.body.size() <= most_bytes;
    if (incoming.kind == Incoming::Kind::message && !room && !queue_.empty()) {
        incoming.kind = Incoming::Kind::crowded;
        incoming.message.body = {};
    }
    bytes_ += incoming.message.body.size();
    queue_.push_back(std::move(incoming));
    arrived_.notify_one();
}

Incoming Inbox::pop() {
    std::unique_lock lock(mutex_);
    arrived_.wait(lock, [&] { return !queue_.empty(); });
    Incoming first = std::move(queue_.front());
    queue_.pop_front();
    bytes_ -= first.message.body.size();
    taken_.notify_one();
    return first;
}

void Cancelled::expect(std::int64_t id) {
    const std::lock_guard lock(mutex_);
    ++ids_[id].open;
}

void Cancelled::add(std::int64_t id) {
    const std::lock_guard lock(mutex_);
    if (const auto found = ids_.find(id); found != ids_.end())
        found->second.cancelled = found->second.open;
}

void Cancelled::forget(std::int64_t id) {
    const std::lock_guard lock(mutex_);
    const auto found = ids_.find(id);
    if (found == ids_.end()) return;
    found->second.cancelled = std::max(0, found->second.cancelled - 1);
    if (--found->second.open <= 0) ids_.erase(found);
}

bool Cancelled::contains(std::int64_t id) {
    const std::lock_guard lock(mutex_);
    const auto found = ids_.find(id);
    return found != ids_.end() && found->second.cancelled > 0;
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
            if (const auto id = header.find("id"); id != header.end() && id->is_number_integer())
                cancelled.expect(id->get<std::int64_t>());
        }
        const bool last =
            incoming.kind == Incoming::Kind::end || incoming.kind == Incoming::Kind::broken;
        inbox.push(std::move(incoming));
        if (last) return;
    }
}

}  // namespace tearline::serve
