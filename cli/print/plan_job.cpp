#include "cli/print/plan_job.h"

#include <QProcess>
#include <filesystem>

#include "cli/commands.h"

namespace tearline::cli {

PlannedJob plan_job(const std::string& file) {
    PlannedJob job{.folder = std::make_unique<QTemporaryDir>()};
    std::error_code error;
    // Beside this program, as that looks for this one.
    const std::filesystem::path program =
        std::filesystem::read_symlink("/proc/self/exe", error).parent_path() / "tearline";
    QProcess plan;
    plan.setStandardOutputFile(QProcess::nullDevice());
    plan.start(QString::fromStdString(program.string()),
               {"plan", QString::fromStdString(file), "-o", job.folder->filePath("plan"),
                "--format", "svg"});
    if (!plan.waitForFinished(-1) || plan.exitStatus() != QProcess::NormalExit) {
        job.status = exit_bug;
        job.said = program.string() + " could not be run: " + plan.errorString().toStdString();
        return job;
    }
    job.status = plan.exitCode();
    job.said = plan.readAllStandardError().toStdString();
    return job;
}

}  // namespace tearline::cli
