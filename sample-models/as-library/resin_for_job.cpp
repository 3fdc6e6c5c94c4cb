// Tearline as a library: plans a job file and says what each ply takes.
//   resin_for_job JOB
#include <tearline/plan_repair.h>
#include <tearline/read_job.h>

#include <cstdio>

namespace {

int refuse(const tearline::Error& error) {
    std::fprintf(stderr, "%s\n", error.message().c_str());
    return 1;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc != 2) {
        std::fprintf(stderr, "usage: resin_for_job JOB\n");
        return 2;
    }
    const auto job = tearline::job::read_job(argv[1]);
    if (!job) return refuse(job.error());
    const auto plan = tearline::plan_repair(*job);
    if (!plan) return refuse(plan.error());

    for (const auto& ply : plan->plies) {
        const auto& takes = tearline::quantities::amounts_of(plan->quantities, ply.number);
        std::printf("ply %d, %s: %zu of cloth, %.0f g glass, %.0f g resin\n", ply.number,
                    ply.fabric.c_str(), ply.pieces.size(), takes.glass_g, takes.resin_g);
    }
    std::printf("resin to mix: %.0f g\n", plan->quantities.totals.resin_g);
    for (const tearline::Warning& warning : plan->warnings)
        std::printf("%s\n", warning.words().told.c_str());
    return 0;
}
