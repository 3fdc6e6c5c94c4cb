#include "core/batch/run_batch.h"

#include <chrono>
#include <map>
#include <nlohmann/json.hpp>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "core/base/sha256.h"
#include "core/batch/results_file.h"
#include "core/batch/run_tasks.h"
#include "core/files/entries.h"
#include "core/files/interruption.h"
#include "core/files/manifest.h"
#include "core/files/origin.h"
#include "core/files/replace_folder.h"
#include "core/files/write_plan.h"
#include "core/job/read_job.h"

namespace tearline::batch {

namespace fs = std::filesystem;

namespace {

/// Whether what a result was made from is still what stands there.
class Sources {
public:
    explicit Sources(fs::path room) : room_(std::move(room)) {}

    bool are_those_of(const KnownResult& known) {
        if (known.origin.options != options_ || known.origin.program != files::program_sha256())
            return false;
        const auto text = job::read_job_text(room_ / known.job);
        const auto hash = text ? std::optional(sha256_hex(*text)) : std::nullopt;
        if (hash != known.origin.job) return false;
        // These bytes were read once before, by a worker that lived to tell: here they harm nobody.
        return !text || models_of(*text, room_ / known.job) == known.origin.model;
    }

private:
    std::optional<std::string> models_of(const std::string& text, const fs::path& file) {
        const auto job = job::parse_job(text, file);
        if (!job) return std::nullopt;
        const bool model_alone = !job->damage.scan && job->damage.scans_after.empty();
        const std::string model = job->hull.model.lexically_normal().string();
        const auto kept = models_.find(model);
        if (model_alone && !job->hull.by_hand() && kept != models_.end()) return kept->second;
        const auto read = files::models_sha256(*job);
        const auto hash = read ? *read : std::nullopt;
        if (model_alone && !job->hull.by_hand()) models_[model] = hash;
        return hash;
    }

    fs::path room_;
    const std::string options_ = files::OutputOptions{}.sha256();
    std::map<std::string, std::optional<std::string>> models_;  ///< by the file of a hull
};

/// The folder of a batch, made where it is missing.
Result<fs::path> own_folder(const fs::path& folder) {
    if (folder.empty()) return output_failed("-o: an empty name is no folder");
    std::error_code failed;
    fs::create_directories(folder, failed);
    if (!fs::is_directory(folder))
        return output_failed(folder.string(),
                             "cannot be written: " +
                                 (failed ? failed.message() : "a file of that name is in the way"));
    if (fs::exists(folder / files::manifest_name))
        return output_failed(folder.string(),
                             "holds a plan of its own; name another folder for the results of "
                             "many jobs");
    return fs::absolute(folder);
}

class Batch {
public:
    Batch(const fs::path& list, fs::path folder, const BatchOptions& options)
        : room_(fs::absolute(list).parent_path()), folder_(std::move(folder)), options_(options) {}

    Result<BatchProgress> run(const std::vector<std::string>& listed) {
        jobs_ = jobs_of_slice(listed, options_.slice);
        progress_.jobs = jobs_.size();
        auto results = ResultsFile::open(folder_ / results_name(options_.slice), passed_over());
        if (!results) return tl::unexpected(results.error());
        std::erase_if(jobs_, [&](const std::string& job) { return standing_.contains(job); });
        progress_.skipped = progress_.jobs - jobs_.size();
        sweep();
        begun_ = std::chrono::steady_clock::now();
        const auto ran = run_tasks(
            jobs_.size(), [this](std::size_t index) { return task(jobs_[index]); },
            [&](std::size_t index, const Outcome& outcome) -> Result<void> {
                if (auto added = results->add(outcome.line); !added) return added;
                count(jobs_[index], outcome);
                return {};
            },
            {options_.workers, [this] { tell(); }});
        results->sync();
        if (!ran) return tl::unexpected(ran.error());
        return progress_;
    }

private:
    /// A result stays when it is final, its job's first, and made from what stands there now. Those
    /// of jobs that the list does not hold are another's: they stay, too.
    std::function<bool(const KnownResult&)> passed_over() {
        const auto mine =
            std::make_shared<std::unordered_set<std::string>>(jobs_.begin(), jobs_.end());
        const auto sources = std::make_shared<Sources>(room_);
        return [this, mine, sources](const KnownResult& known) {
            if (!known.status.is_final() || standing_.contains(known.job)) return false;
            if (mine->contains(known.job)) {
                if (!sources->are_those_of(known) || !has_its_folder(known)) return false;
            }
            standing_.insert(known.job);
            return true;
        };
    }

    /// Whole, and as it was written: nobody cuts by a template that somebody drew over.
    bool has_its_folder(const KnownResult& known) const {
        if (options_.lean || !known.status.is_done()) return true;
        const fs::path folder = folder_ / plan_folder(known.job);
        try {
            return files::origin_of(folder) == known.origin && files::check_ours(folder);
        } catch (const fs::filesystem_error&) {
            return false;  // what cannot be looked at now its worker tells
        }
    }

    /// What plans that were stopped outright left beside their folders.
    void sweep() const {
        std::unordered_map<std::string, fs::path> stems;
        std::error_code ignored;
        if (!fs::is_directory(folder_ / "plans", ignored)) return;
        for (const std::string& job : jobs_) {
            const fs::path out = folder_ / plan_folder(job);
            stems.emplace(files::work_stem(out), out);
        }
        for (const std::string& shard : files::entries_of(folder_ / "plans", ignored)) {
            const fs::path inside = folder_ / "plans" / shard;
            if (!fs::is_directory(inside, ignored)) continue;
            for (const std::string& name : files::entries_of(inside, ignored)) {
                if (!files::is_work_name(name)) continue;
                const auto found = stems.find(name.substr(0, name.rfind('-') + 1));
                if (found == stems.end()) continue;
                if (const auto swept = files::sweep_beside(found->second); swept && !swept->empty())
                    complain(found->second.string(), *swept);
            }
        }
    }

    Task task(const std::string& job) const {
        Task task;
        task.room = room_;
        task.job = job;
        task.folder = plan_folder(job);
        task.out = folder_ / task.folder;
        task.lean = options_.lean;
        task.limits = options_.limits;
        task.reading = hull::read_limits();
        task.program = files::program_sha256();
        return task;
    }

    void count(const std::string& job, const Outcome& outcome) {
        if (outcome.status.is_done())
            ++progress_.done;
        else if (outcome.status.is_final())
            ++progress_.refused;
        else
            ++progress_.failed;
        if (!outcome.status.is_done()) complain(job, outcome);
        tell();
    }

    void complain(const std::string& job, const Outcome& outcome) const {
        const auto json = nlohmann::json::parse(outcome.line, nullptr, false);
        complain(job, json.is_object() ? json.value("message", "") : "");
    }
    void complain(const std::string& job, const std::string& why) const {
        if (options_.complaint) options_.complaint(job, why);
    }

    void tell() {
        const std::chrono::duration<double> since = std::chrono::steady_clock::now() - begun_;
        progress_.seconds = since.count();
        if (options_.progress) options_.progress(progress_);
    }

    const fs::path room_, folder_;
    const BatchOptions& options_;
    std::vector<std::string> jobs_;  ///< that are to be done
    std::unordered_set<std::string> standing_;
    BatchProgress progress_;
    std::chrono::steady_clock::time_point begun_;
};

}  // namespace

std::string results_file(const fs::path& folder, const std::optional<Slice>& slice) {
    return (folder / results_name(slice)).string();
}

std::optional<double> BatchProgress::seconds_left() const {
    if (ended() == 0) return std::nullopt;
    return seconds * static_cast<double>(left()) / static_cast<double>(ended());
}

Result<BatchProgress> run_batch(const fs::path& list, const fs::path& folder,
                                const BatchOptions& options) {
    const auto jobs = read_job_list(list);
    if (!jobs) return tl::unexpected(jobs.error());
    const files::Interruption interruption;
    try {
        auto own = own_folder(folder);
        if (!own) return tl::unexpected(own.error());
        return Batch(list, *own, options).run(*jobs);
    } catch (const fs::filesystem_error& error) {
        return output_failed(folder.string(), "cannot be written: " + error.code().message());
    }
}

}  // namespace tearline::batch
