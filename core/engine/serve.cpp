#include "core/engine/serve.h"

#include <algorithm>
#include <condition_variable>
#include <deque>
#include <exception>
#include <filesystem>
#include <istream>
#include <memory>
#include <mutex>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "core/base/version.h"
#include "core/engine/ground.h"
#include "core/engine/message.h"
#include "core/hull/read_hull.h"
#include "core/job/read_job.h"
#include "core/output/piece_mesh.h"
#include "core/output/write_plan.h"
#include "core/plan_repair.h"

namespace tearline::engine {

namespace {

using Json = nlohmann::ordered_json;

constexpr int protocol = 1;

/// Requests between the thread that reads the pipe and the one that works.
///
/// Reading goes on while a plan is being worked out, so that "cancel" is heard.
class Inbox {
public:
    void push(Incoming incoming) {
        const std::lock_guard lock(mutex_);
        queue_.push_back(std::move(incoming));
        arrived_.notify_one();
    }
    Incoming pop() {
        std::unique_lock lock(mutex_);
        arrived_.wait(lock, [&] { return !queue_.empty(); });
        Incoming first = std::move(queue_.front());
        queue_.pop_front();
        return first;
    }

private:
    std::mutex mutex_;
    std::condition_variable arrived_;
    std::deque<Incoming> queue_;
};

/// Which requests the other side no longer wants.
class Cancelled {
public:
    void add(std::int64_t id) {
        const std::lock_guard lock(mutex_);
        ids_.push_back(id);
    }
    bool contains(std::int64_t id) {
        const std::lock_guard lock(mutex_);
        return std::find(ids_.begin(), ids_.end(), id) != ids_.end();
    }

private:
    std::mutex mutex_;
    std::vector<std::int64_t> ids_;
};

const char* word(ErrorKind kind) {
    switch (kind) {
        case ErrorKind::bad_input:
            return "bad-input";
        case ErrorKind::no_safe_answer:
            return "no-safe-answer";
        case ErrorKind::output_failed:
            return "output-failed";
    }
    return "bug";
}

Json as_json(const Vec3& p) {
    return Json::array({p.x(), p.y(), p.z()});
}

Json as_json(const Loop3& loop) {
    Json points = Json::array();
    for (const Vec3& p : loop) points.push_back(as_json(p));
    return points;
}

class Server {
public:
    explicit Server(std::ostream& out) : out_(out) {}

    /// Works off one message; false after "bye".
    bool handle(const Message& message, Cancelled& cancelled) {
        const Json header = Json::parse(message.header);
        id_ = header.value("id", Json());
        try {
            const auto request = header.find("request");
            if (request == header.end() || !request->is_string())
                return complain("bad-request", "a header names its request: \"request\": \"plan\"");
            return answer(request->get<std::string>(), header, message.body, cancelled);
        } catch (const Json::exception&) {
            return complain("bad-request", "a field of the header has the wrong type");
        } catch (const std::exception& error) {
            return complain("bug", error.what());
        }
    }

    bool complain(const std::string& kind, const std::string& text) {
        send({{"id", id_}, {"ok", false}, {"error", kind}, {"message", text}});
        return true;
    }
    void forget_id() { id_ = Json(); }

private:
    bool answer(const std::string& request, const Json& header, const std::string& body,
                Cancelled& cancelled) {
        if (request == "bye") {
            send({{"id", id_}, {"ok", true}});
            return false;
        }
        if (request == "hello") return hello(header);
        if (!greeted_) return complain("bad-request", "say hello first");
        if (request == "ping") return send({{"id", id_}, {"ok", true}});
        if (request == "outline") return outline(header, body);
        if (request == "plan") return plan(header, body, cancelled);
        if (request == "write") return write(header);
        return complain("bad-request", "no request '" + request +
                                           "': hello, ping, outline, plan, write, cancel, bye");
    }

    bool hello(const Json& header) {
        if (header.value("protocol", 0) != protocol)
            return complain("bad-version",
                            "this engine speaks protocol " + std::to_string(protocol));
        greeted_ = true;
        return send({{"id", id_},
                     {"ok", true},
                     {"program", "tearline"},
                     {"version", std::string(version())},
                     {"protocol", protocol}});
    }

    Result<job::Job> job_of(const Json& header, const std::string& body) {
        return job::parse_job(body, header.value("file", std::string("job.toml")));
    }

    /// The hull of a job, read once and kept while file and options stay the same.
    Result<const hull::Hull*> hull_of(const job::Job& job) {
        std::error_code ignored;
        const auto changed = std::filesystem::last_write_time(job.hull.model, ignored);
        const std::string key =
            Json::array({job.hull.model.string(), changed.time_since_epoch().count(),
                         job.hull.unit.value_or(""), as_json(job.hull.bow), as_json(job.hull.up),
                         job.hull.outward, job.hull.mirror.value_or(false),
                         job.hull.mirror.has_value(), static_cast<int>(job.damage.side),
                         static_cast<int>(job.hull.surface)})
                .dump();
        if (!hull_ || key != hull_key_) {
            hull_.reset();
            auto read = hull::read_hull(job.hull, job.damage.side);
            if (!read) return tl::unexpected(read.error());
            hull_ = std::move(*read);
            hull_key_ = key;
        }
        return &*hull_;
    }

    bool refuse(const Error& error) { return complain(word(error.kind), error.message); }

    /// The damage outline as the engine sees it, while the user still drags its points.
    bool outline(const Json& header, const std::string& body) {
        const auto job = job_of(header, body);
        if (!job) return refuse(job.error());
        const auto hull = hull_of(*job);
        if (!hull) return refuse(hull.error());
        const auto ground = lay_ground(*job, **hull);
        if (!ground) return refuse(ground.error());
        Loop3 points;
        for (const damage::OutlinePoint& point : ground->outline.points)
            points.push_back(point.position);
        Json scarf = Json::array();
        for (const Region3& part : ground->region_at(ground->scarf_offset).on_base)
            scarf.push_back(as_json(part.outer));
        const Json result = {{"outline_3d", as_json(points)},
                             {"scarf_3d", std::move(scarf)},
                             {"middle", as_json(ground->frame.middle)},
                             {"normal", as_json(ground->frame.normal)},
                             {"x", as_json(ground->frame.x)}};
        return send({{"id", id_}, {"ok", true}}, result.dump());
    }

    bool plan(const Json& header, const std::string& body, Cancelled& cancelled) {
        const std::int64_t number = id_.is_number_integer() ? id_.get<std::int64_t>() : -1;
        const auto job = job_of(header, body);
        if (!job) return refuse(job.error());
        const auto hull = hull_of(*job);
        if (!hull) return refuse(hull.error());
        const Progress progress = [&](std::string_view stage, double fraction) {
            if (cancelled.contains(number)) return false;
            return send({{"id", id_}, {"progress", std::string(stage)}, {"fraction", fraction}});
        };
        auto planned = plan_repair(*job, **hull, progress);
        if (cancelled.contains(number)) return complain("cancelled", "stopped as asked");
        if (!planned) return refuse(planned.error());
        plan_ = std::move(*planned);
        return send_plan();
    }

    /// plan.json and every piece's mesh, one after the other; the header lists them.
    bool send_plan() {
        std::string body = output::plan_json(*plan_);
        Json parts = Json::array({{{"name", "plan.json"}, {"bytes", body.size()}}});
        for (const PlannedPly& ply : plan_->plies)
            for (const PlannedPiece& piece : ply.pieces) {
                const std::string mesh = output::piece_mesh(piece.piece);
                parts.push_back(
                    {{"name", "pieces/" + piece.piece.id + ".bin"}, {"bytes", mesh.size()}});
                body += mesh;
            }
        return send({{"id", id_}, {"ok", true}, {"parts", std::move(parts)}}, std::move(body));
    }

    /// Writes the last plan's files into a folder, as the command line would.
    bool write(const Json& header) {
        if (!plan_) return complain("bad-request", "ask for a plan first");
        const auto folder = header.value("folder", std::string());
        if (folder.empty()) return complain("bad-request", "\"folder\" names where to write");
        output::OutputOptions options;
        options.mirror = header.value("mirror", false);
        if (const auto written = output::write_plan(*plan_, folder, options); !written)
            return refuse(written.error());
        return send({{"id", id_}, {"ok", true}, {"folder", folder}});
    }

    bool send(const Json& header, std::string body = {}) {
        write_message(out_, {header.dump(), std::move(body)});
        return true;
    }

    std::ostream& out_;
    Json id_;
    bool greeted_ = false;
    std::optional<hull::Hull> hull_;
    std::string hull_key_;
    std::optional<Plan> plan_;
};

/// Reads until the pipe ends; hears "cancel" at once, hands the rest on.
void read_all(std::istream& in, Inbox& inbox, Cancelled& cancelled) {
    for (;;) {
        Incoming incoming = read_message(in);
        if (incoming.kind == Incoming::Kind::message) {
            const Json header = Json::parse(incoming.message.header);
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

}  // namespace

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
    Server server(out);
    for (;;) {
        const Incoming incoming = shared->inbox.pop();
        switch (incoming.kind) {
            case Incoming::Kind::end:
                return 0;
            case Incoming::Kind::malformed:
            case Incoming::Kind::broken:
                server.forget_id();
                server.complain("bad-request", incoming.complaint);
                if (incoming.kind == Incoming::Kind::broken) return 3;
                break;
            case Incoming::Kind::message:
                if (!server.handle(incoming.message, shared->cancelled)) return 0;
        }
    }
}

}  // namespace tearline::engine
