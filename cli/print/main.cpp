#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <QApplication>
#include <QHashSeed>
#include <QMessageBox>
#include <algorithm>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <new>
#include <optional>
#include <string_view>

#include "cli/commands.h"
#include "cli/print/open_plan.h"
#include "cli/print/plan_job.h"
#include "cli/print/print_window.h"
#include "cli/print/print_words.h"
#include "cli/print/save_pdf.h"
#include "core/paper/sheet_pdf.h"
#include "core/paper/write_pdf.h"

namespace tearline::cli {

namespace {

int say(const Error& error) {
    std::fprintf(stderr, "tearline-print: %s\n", error.message().c_str());
    return error.kind == ErrorKind::output_failed ? exit_output_failed : exit_bad_input;
}

Result<paper::PrintChoice> choice_of(const PrintWords& words) {
    paper::PrintChoice choice;
    if (!words.paper.empty()) {
        const auto paper = paper::read_paper(words.paper);
        if (!paper) return tl::unexpected(paper.error());
        choice.paper = *paper;
    }
    const auto scale = paper::read_print_scale(words.print_scale);
    if (!scale) return tl::unexpected(scale.error());
    choice.print_scale = *scale;
    choice.mirrored = words.mirror;
    choice.less_paper = words.less_paper;
    choice.polar_tables = words.tables;
    choice.only = words.only;
    return choice;
}

/// Qt's own chatter (no runtime folder, no such theme) is nothing a person at the printer needs.
void quiet(QtMsgType type, const QMessageLogContext&, const QString& text) {
    if (type == QtCriticalMsg || type == QtFatalMsg)
        std::fprintf(stderr, "%s\n", text.toUtf8().constData());
}

int write(const templates::TemplateSet& plan, const paper::PrintChoice& choice,
          const std::string& file) {
    const auto layout = paper::lay_out_print(plan, choice);
    if (!layout) return say(layout.error());
    const auto pdf = paper::pdf_of(*layout);
    if (!pdf) return say(pdf.error());
    if (const auto saved = save(*pdf, file); !saved) return say(saved.error());
    std::fprintf(stderr, "%zu %s\n", layout->pages.size(),
                 layout->pages.size() == 1 ? "page" : "pages");
    return exit_done;
}

/// Qt for drawing without a screen, started the same way every time.
class Offscreen {
public:
    Offscreen() { QHashSeed::setDeterministicGlobalSeed(); }

private:
    char name_[15] = "tearline-print", option_[10] = "-platform", platform_[10] = "offscreen";
    char* arguments_[4] = {name_, option_, platform_, nullptr};
    int count_ = 3;
    QGuiApplication application_{count_, arguments_};
};

int write_sheet(const PrintWords& words, const paper::Paper& paper) {
    if (words.pdf.empty())
        return say(bad_input("--sheet",
                             "name the PDF to write with --pdf FILE; a browser shows and "
                             "prints job-sheet.html")
                       .value());
    const auto html = open_sheet(words.folder);
    if (!html) return say(html.error());
    const Offscreen qt;
    const auto pdf = paper::sheet_pdf(*html, paper);
    if (!pdf) return say(pdf.error());
    if (const auto saved = save(*pdf, words.pdf); !saved) return say(saved.error());
    return exit_done;
}

bool has_screen() {
    return std::getenv("DISPLAY") || std::getenv("WAYLAND_DISPLAY") ||
           std::getenv("QT_QPA_PLATFORM");
}

/// What `tearline plan` said, for who started us from a file manager and sees no terminal.
void show_said(const PlannedJob& job) {
    QMessageBox box(
        job.status == 0 ? QMessageBox::Warning : QMessageBox::Critical, "Tearline",
        job.status == 0 ? "Read this before anything is cut." : "This job cannot be planned.",
        QMessageBox::Ok);
    box.setInformativeText(QString::fromStdString(job.said));
    box.exec();
}

int open_window(int argc, char** argv, const templates::TemplateSet& plan,
                const paper::PrintChoice& choice, const std::optional<PlannedJob>& job) {
    QApplication application(argc, argv);
    PrintWindow window(plan, choice);
    window.show();
    if (job && !job->said.empty()) show_said(*job);
    return QApplication::exec();
}

/// The system's word that the time is up comes at any moment: it may only be passed on.
[[noreturn]] void end_of_time(int) {
    constexpr std::string_view said =
        "tearline-print: these pages take too long; print fewer with --only, or on larger paper\n";
    [[maybe_unused]] const ssize_t told = ::write(STDERR_FILENO, said.data(), said.size());
    _exit(exit_no_safe_answer);
}

/// For pages written without a person: what takes longer or more than any plan is a fault.
void limit_what_it_takes() {
    constexpr rlim_t most_seconds = 120, most_bytes = 4'000'000'000;
    rlimit time{}, room{};
    getrlimit(RLIMIT_CPU, &time);
    getrlimit(RLIMIT_AS, &room);
    time.rlim_cur = std::min(time.rlim_cur, most_seconds);
    room.rlim_cur = std::min(room.rlim_cur, most_bytes);
    std::signal(SIGXCPU, end_of_time);
    setrlimit(RLIMIT_CPU, &time);
    setrlimit(RLIMIT_AS, &room);
}

int run(int argc, char** argv) {
    PrintWords words;
    CLI::App app("", "tearline-print");
    add_print_words(app, words);
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        return app.exit(error) == 0 ? exit_done : exit_wrong_command_line;
    }
    if (!words.pdf.empty()) limit_what_it_takes();
    // A plan on standard input comes from the program that waits for the pages: not outlived.
    if (words.folder == "-") prctl(PR_SET_PDEATHSIG, SIGKILL);
    auto choice = choice_of(words);
    if (!choice) return say(choice.error());
    if (const auto free = check_free(words.pdf); !words.pdf.empty() && !free)
        return say(free.error());
    qInstallMessageHandler(quiet);
    std::optional<PlannedJob> job;
    if (std::error_code gone; std::filesystem::is_regular_file(words.folder, gone)) {
        job = plan_job(words.folder);
        std::fputs(job->said.c_str(), stderr);
        if (job->status != 0) {
            if (!words.pdf.empty() || !has_screen()) return job->status;
            const QApplication application(argc, argv);
            show_said(*job);
            return job->status;
        }
        words.folder = job->folder->filePath("plan").toStdString();
    }
    // A sheet on standard input comes without its plan, and with its paper.
    if (words.sheet && (words.folder == "-" || !words.paper.empty()))
        return write_sheet(words, choice->paper);
    const auto plan = open_plan(words.folder);
    if (!plan) return say(plan.error());
    if (words.paper.empty()) choice->paper = *paper::read_paper(paper::own_paper(plan->units));
    if (words.sheet) return write_sheet(words, choice->paper);

    if (words.pdf.empty() && !has_screen())
        return say(
            {.kind = ErrorKind::output_failed,
             .what =
                 "there is no screen to open a window on; --pdf FILE writes the pages instead"});
    if (words.pdf.empty()) return open_window(argc, argv, *plan, *choice, job);
    const Offscreen qt;
    return write(*plan, *choice, words.pdf);
}

}  // namespace

}  // namespace tearline::cli

int main(int argc, char** argv) {
    // The hour of making is not in a PDF, and no sign of its zone: the same bytes anywhere.
    setenv("TZ", "UTC0", 1);
    try {
        return tearline::cli::run(argc, argv);
    } catch (const std::bad_alloc&) {
        std::fprintf(stderr,
                     "tearline-print: not enough memory for these pages; print fewer with --only, "
                     "or on smaller paper\n");
        return tearline::cli::exit_no_safe_answer;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "tearline-print: a fault in this program: %s\n", error.what());
        return tearline::cli::exit_bug;
    }
}
