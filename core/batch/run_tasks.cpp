#include "core/batch/run_tasks.h"

#include <poll.h>

#include <algorithm>
#include <csignal>
#include <deque>
#include <thread>
#include <utility>
#include <vector>

#include "core/batch/worker_process.h"
#include "core/files/interruption.h"

namespace tearline::batch {

namespace {

constexpr int between_ticks = 200;                  // [ms]
constexpr std::chrono::seconds patience_at_end{5};  // for workers that clear up

/// Which tasks wait, which are at work, and which were tried already.
class Run {
public:
    using Finished = std::function<Result<void>(std::size_t, const Outcome&)>;

    Run(std::size_t count, const std::function<Task(std::size_t)>& task, const Finished& finished,
        const RunOptions& options)
        : count_(count), task_(task), finished_(finished), options_(options) {}

    Result<void> go() {
        const std::size_t most = options_.workers > 0 ? options_.workers : usable_cores();
        for (;;) {
            while (busy_.size() < most && !files::Interruption::noted())
                if (const auto next = next_task()) {
                    auto worker = WorkerProcess::start(task_(next->index));
                    // A machine that is short of processes has one again when a worker ends.
                    if (!worker && busy_.empty()) return tl::unexpected(worker.error());
                    if (!worker) {
                        (next->again ? again_ : put_off_).push_back(next->index);
                        break;
                    }
                    busy_.push_back({*next, *std::move(worker)});
                } else {
                    break;
                }
            if (files::Interruption::noted()) return stopped();
            if (busy_.empty()) return {};
            if (auto told = wait(); !told) return told;
            if (options_.tick) options_.tick();
        }
    }

private:
    struct Turn {
        std::size_t index = 0;
        bool again = false;
    };
    struct Busy {
        Turn turn;
        WorkerProcess worker;
    };

    std::optional<Turn> next_task() {
        if (!put_off_.empty()) return Turn{taken_from(put_off_), false};
        if (next_ < count_) return Turn{next_++, false};
        if (!again_.empty()) return Turn{taken_from(again_), true};
        return std::nullopt;
    }
    static std::size_t taken_from(std::deque<std::size_t>& queue) {
        const std::size_t first = queue.front();
        queue.pop_front();
        return first;
    }

    Result<void> wait() {
        std::vector<pollfd> waits;
        for (const Busy& busy : busy_) waits.push_back({busy.worker.descriptor(), POLLIN, 0});
        poll(waits.data(), waits.size(), between_ticks);
        for (std::size_t i = busy_.size(); i-- > 0;) {
            busy_[i].worker.mind_the_clock();
            if (waits[i].revents == 0 || !busy_[i].worker.listen()) continue;
            Busy ended = std::move(busy_[i]);
            busy_.erase(busy_.begin() + static_cast<std::ptrdiff_t>(i));
            if (auto told = end(ended); !told) return told;
        }
        return {};
    }

    Result<void> end(Busy& ended) {
        const Outcome outcome = ended.worker.outcome();
        if (!outcome.status.is_final() && !ended.turn.again) {
            again_.push_back(ended.turn.index);
            return {};
        }
        return finished_(ended.turn.index, outcome);
    }

    /// Workers take away what they have half written; then they are gone.
    tl::unexpected<Error> stopped() {
        for (const Busy& busy : busy_) busy.worker.send(SIGTERM);
        const auto end = std::chrono::steady_clock::now() + patience_at_end;
        while (!busy_.empty() && std::chrono::steady_clock::now() < end) {
            std::erase_if(busy_, [](Busy& busy) { return busy.worker.listen(); });
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        }
        return output_failed("stopped by a signal");
    }

    const std::size_t count_;
    const std::function<Task(std::size_t)>& task_;
    const Finished& finished_;
    const RunOptions& options_;
    std::size_t next_ = 0;
    std::deque<std::size_t> put_off_, again_;
    std::vector<Busy> busy_;
};

}  // namespace

std::size_t usable_cores() {
    return std::max(1u, std::thread::hardware_concurrency());
}

Result<void> run_tasks(std::size_t count, const std::function<Task(std::size_t)>& task,
                       const std::function<Result<void>(std::size_t, const Outcome&)>& finished,
                       const RunOptions& options) {
    return Run(count, task, finished, options).go();
}

}  // namespace tearline::batch
