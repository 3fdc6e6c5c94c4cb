#include "core/batch/worker.h"

#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <exception>
#include <new>
#include <nlohmann/json.hpp>

#include "core/base/address_space.h"
#include "core/base/large_pages.h"
#include "core/base/sha256.h"
#include "core/base/side_by_side.h"
#include "core/batch/result_line.h"
#include "core/files/manifest.h"
#include "core/files/replace_folder.h"
#include "core/files/write_plan.h"
#include "core/formats/json_writer.h"
#include "core/job/read_job.h"
#include "core/job/watched_files.h"
#include "core/plan/plan_repair.h"

namespace tearline::batch {

namespace {

using Json = nlohmann::json;

constexpr const char* worker_name = "tearline: plans a job";
Json json_of(const Task& task) {
    Json changes = Json::array();
    for (const job::Change& change : task.changes) changes.push_back({change.key, change.text});
    return {{"parent", getpid()},
            {"changes", changes},
            {"after_ply", task.after_ply},
            {"lean", task.lean},
            {"folder", task.folder},
            {"what_if", task.what_if},
            {"seconds", task.limits.seconds},
            {"gigabytes", task.limits.gigabytes},
            {"read_seconds", task.reading.seconds},
            {"read_gigabytes", task.reading.gigabytes},
            {"program", task.program}};
}

/// By the worker's words: names of files apart, since they may be no UTF-8.
Task task_of(const Json& json, char** names) {
    Task task;
    task.room = names[0];
    task.job = names[1];
    task.out = names[2];
    for (const Json& change : json.at("changes"))
        task.changes.push_back({change.at(0), change.at(1)});
    task.after_ply = json.at("after_ply");
    task.lean = json.at("lean");
    task.folder = json.at("folder");
    task.what_if = json.at("what_if");
    task.limits = {json.at("seconds"), json.at("gigabytes")};
    task.reading = {json.at("read_seconds"), json.at("read_gigabytes")};
    task.program = json.at("program");
    return task;
}

/// Through a socket: no SIGPIPE where the other side has died, and no limit of file size counts.
void say(Says what, const std::string& words) {
    const std::string line = std::string(1, what) + words + "\n";
    for (std::size_t done = 0; done < line.size();) {
        const ssize_t sent =
            send(STDIN_FILENO, line.data() + done, line.size() - done, MSG_NOSIGNAL);
        if (sent < 0 && errno != EINTR) return;
        if (sent > 0) done += static_cast<std::size_t>(sent);
    }
}

/// Of this process alone: the one that a model is read in has limits of its own, which it may set
/// since the hard ones stay as they are.
void limit(__rlimit_resource resource, rlim_t most) {
    rlimit now{};
    if (getrlimit(resource, &now) != 0) return;
    now.rlim_cur = std::min(most, now.rlim_max);
    setrlimit(resource, &now);
}

void keep_within(const JobLimits& limits) {
    limit(RLIMIT_CORE, 0);
    limit(RLIMIT_CPU, static_cast<rlim_t>(std::ceil(limits.seconds)));
    limit(RLIMIT_AS, static_cast<rlim_t>(address_space_now() + gigabyte * limits.gigabytes));
}

int exit_of(const Error& error) {
    switch (error.kind) {
        case ErrorKind::bad_input:
            return 3;
        case ErrorKind::no_safe_answer:
            return 4;
        case ErrorKind::output_failed:
            return 5;
    }
    return 1;
}

/// The job's way through the worker.
class Work {
public:
    explicit Work(const Task& task) : task_(task) {
        told_.job = task.job;
        told_.what_if = task.what_if;
        told_.origin.options = files::OutputOptions{}.sha256(task.after_ply);
        told_.origin.program = task.program;
    }

    int done() {
        const auto result = plan();
        if (!result) return ended(exit_of(result.error()), result.error().message());
        return ended(0, *result);
    }
    int ended(int status, const std::string& message) {
        told_.status = {Status::Kind::exited, status};
        told_.message = message;
        if (status != 0) told_.plan = nullptr;
        told_.folder = status == 0 && !task_.lean ? task_.folder : "";
        say(says_result, result_text(told_));
        return status;
    }

private:
    /// @return  what a person has to be told though all is done; mostly ""
    Result<std::string> plan() {
        const auto text = job::read_job_text(task_.job);
        if (text) told_.origin.job = sha256_hex(*text);
        say_origin();
        if (!text) return refused(text.error());
        auto job = job::parse_job(*text, task_.job, task_.changes);
        if (!job) return refused(job.error());
        job->after_ply = task_.after_ply;
        const job::WatchedFiles watched(*job);
        if (const auto models = files::models_sha256(*job)) told_.origin.model = *models;
        say_origin();
        if (const auto ready = make_room(); !ready) return tl::unexpected(ready.error());
        auto plan = job::of_unchanged(*job, watched, plan_repair(*job));
        // What stands there now is not what was refused: a later run tries again.
        if (!watched.unchanged()) told_.origin.model = std::nullopt;
        if (!plan) return refused(plan.error());
        plan_ = *std::move(plan);
        told_.plan = &plan_;
        if (task_.out.empty()) return std::string();
        if (!task_.lean) return files::write_plan(plan_, task_.out, {}, *told_.origin.job);
        if (files::origin_of(task_.out) == told_.origin) return std::string();
        return outdated();
    }

    /// A folder that a person has edited stays, and is told before anything is planned; one that
    /// has lost files goes.
    Result<void> make_room() const {
        if (task_.lean || task_.out.empty() || files::check_folder(task_.out)) return {};
        return files::remove_folder(task_.out);
    }

    /// A job that is refused has no plan any more.
    tl::unexpected<Error> refused(const Error& error) {
        if (!task_.out.empty())
            if (const auto gone = outdated(); !gone) return tl::unexpected(gone.error());
        return tl::unexpected(error);
    }

    /// Templates of what the job said before would be cut by: they go.
    Result<std::string> outdated() {
        if (const auto removed = files::remove_folder(task_.out); !removed)
            return tl::unexpected(removed.error());
        return std::string();
    }

    void say_origin() {
        formats::JsonWriter json;
        files::write_origin(json, told_.origin);
        say(says_origin, json.take());
    }

    const Task& task_;
    Told told_;
    Plan plan_;
};

}  // namespace

int work(const Task& task) {
    if (chdir(task.room.c_str()) != 0)
        return Work(task).ended(5, task.room.string() + ": " + std::strerror(errno));
    one_thread_only();  // there is a worker a processor
    ready_side_by_side();
    keep_within(task.limits);
    use_large_pages();
    hull::read_limits() = task.reading;
    Work work(task);
    try {
        return work.done();
    } catch (const std::bad_alloc&) {
        return exit_no_memory;
    } catch (const std::exception& error) {
        return work.ended(1,
                          std::string("a fault in this program, not in the job: ") + error.what());
    }
}

std::vector<std::string> worker_words(const Task& task) {
    return {worker_name, json_of(task).dump(), task.room.string(), task.job, task.out.string()};
}

std::optional<int> work_if_asked(int argc, char** argv) {
    constexpr int words = 5;
    if (argc != words || std::strcmp(argv[0], worker_name) != 0) return std::nullopt;
    prctl(PR_SET_PDEATHSIG, SIGKILL);
    const Json json = Json::parse(argv[1]);
    if (json.at("parent").get<pid_t>() != getppid()) return 1;  // it died meanwhile
    return work(task_of(json, argv + 2));
}

}  // namespace tearline::batch
