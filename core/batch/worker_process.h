#pragma once
#include <sys/types.h>

#include <chrono>
#include <string>

#include "core/batch/run_tasks.h"
#include "core/files/descriptor.h"

namespace tearline::batch {

/// One worker at work on one task; killed with all it has begun where it is let go before its end.
class WorkerProcess {
public:
    /// @error output_failed  no process is to be had
    [[nodiscard]] static Result<WorkerProcess> start(const Task& task);
    WorkerProcess(WorkerProcess&& other) noexcept;
    WorkerProcess& operator=(WorkerProcess&& other) noexcept;
    ~WorkerProcess();

    /// To wait on: something can be read there when it has spoken or ended.
    [[nodiscard]] int descriptor() const { return socket_.number(); }
    /// Takes in what it has said.
    /// @return  whether it has said all
    [[nodiscard]] bool listen();
    /// Kills what has worked too long by the clock.
    void mind_the_clock();
    void send(int signal) const;
    /// @pre  it has said all
    [[nodiscard]] Outcome outcome();

private:
    using Clock = std::chrono::steady_clock;

    WorkerProcess() = default;
    [[nodiscard]] std::string last_said(char what) const;

    pid_t id_ = 0;
    files::Descriptor socket_;
    Task task_;
    std::string said_;
    Clock::time_point begun_;
    bool out_of_time_ = false;
};

}  // namespace tearline::batch
