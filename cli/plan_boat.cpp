#include "cli/plan_boat.h"

#include <unistd.h>

#include <cstdio>
#include <filesystem>

#include "cli/commands.h"
#include "core/base/printable.h"
#include "core/base/sha256.h"
#include "core/boat/boat_json.h"
#include "core/boat/plan_boat.h"
#include "core/boat/write_boat.h"
#include "core/files/replace_folder.h"

namespace tearline::cli {

namespace {

/// Warnings with the places that they are of; refusals are told by themselves.
void report_warnings(const boat::Boat& boat) {
    for (const boat::ToldOf& told : boat.warnings) {
        if (told.code == "repair-refused") continue;
        std::string of;
        for (const std::string& name : told.repairs) of += (of.empty() ? "" : ", ") + name;
        if (told.repairs.size() == boat.planned() && told.repairs.size() > 1) of = "every place";
        if (told.piece)
            of += " (piece " + *told.piece + ")";
        else if (told.ply)
            of += " (ply " + std::to_string(*told.ply) + ")";
        std::fprintf(
            stderr, "%s\n",
            printable("warning (" + std::string(rank_key(told.rank)) + "): " + of +
                          (of.empty() ? "" : ": ") + told.words.told + " [" + told.code + "]",
                      true)
                .c_str());
    }
}

int report_refused(const boat::Boat& boat) {
    int status = exit_done;
    for (const boat::Repair& repair : boat.repairs) {
        if (repair.plan) continue;
        Error error = no_safe_answer("repair " + repair.name, repair.refused).value();
        error.file = boat.job.file.string();
        status = report(error);
    }
    return status;
}

}  // namespace

int run_plan_boat(const BoatWords& words, const job::BoatJob& job, std::string_view text) {
    if (words.after_ply > 0)
        return report(bad_input("--after",
                                "goes with a job of one place: plan what is left there "
                                "by a job file of its own")
                          .value());
    const bool watched = isatty(STDERR_FILENO) != 0;
    boat::PlacesDone done;
    if (watched)
        done = [](std::size_t count, std::size_t all) {
            std::fprintf(stderr, "\r\033[K%zu of %zu places", count, all);
            std::fflush(stderr);
        };
    const auto boat = boat::plan_boat(job, done);
    if (watched) std::fprintf(stderr, "\r\033[K");
    if (!boat) return report(boat.error());
    report_warnings(*boat);
    const std::string& folder = words.output.folder;
    if (!folder.empty()) {
        const auto told =
            boat::write_boat(*boat, folder, output_options(words.output), sha256_hex(text));
        if (!told) return report(told.error());
        if (!told->empty()) std::fprintf(stderr, "tearline: %s\n", printable(*told).c_str());
    }
    if (words.output.json)
        if (const auto put = put_on_stdout(boat::boat_json(*boat)); !put)
            return report(put.error());
    const int status = report_refused(*boat);
    if (!folder.empty())
        std::fprintf(
            stderr, "%zu of %zu places planned: %s\n", boat->planned(), boat->repairs.size(),
            printable((std::filesystem::path(folder) / "job-sheet.html").string()).c_str());
    return status;
}

}  // namespace tearline::cli
