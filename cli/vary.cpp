#include "cli/vary.h"

#include <unistd.h>

#include <CLI/Error.hpp>
#include <cstdio>
#include <filesystem>

#include "cli/commands.h"
#include "core/base/printable.h"
#include "core/base/sha256.h"
#include "core/files/replace_folder.h"
#include "core/files/write_plan.h"
#include "core/job/read_job.h"
#include "core/variants/combinations.h"
#include "core/variants/run_variants.h"
#include "core/variants/variants_page.h"
#include "core/variants/variants_table.h"

namespace tearline::cli {

namespace {

std::vector<job::Variation> read_variations(const std::vector<std::string>& words) {
    std::vector<job::Variation> out;
    for (const std::string& word : words) {
        auto variation = job::read_variation(word);
        if (!variation) throw CLI::ValidationError("--vary", variation.error());
        for (const job::Variation& other : out)
            if (other.key == variation->key)
                throw CLI::ValidationError("--vary", printable(other.key) +
                                                         " is varied twice; name all its values "
                                                         "in one, with commas between");
        out.push_back(*std::move(variation));
    }
    return out;
}

/// Files of a comparison, under the rules of a plan's folder.
int write(const variants::Variants& variants, const VaryWords& words, const std::string& job) {
    const files::FileSet files{{"variants.csv", variants::variants_csv(variants)},
                               {"variants.html", variants::variants_page(variants)}};
    std::string options = files::OutputOptions{}.sha256(words.after_ply);
    for (const std::string& variation : words.variations) options += "\n" + variation;
    const files::Origin origin{sha256_hex(job), {}, sha256_hex(options), files::program_sha256()};
    const auto told = files::replace_folder(words.folder, files, files::default_patience, origin);
    if (!told) return report(told.error());
    if (!told->empty()) std::fprintf(stderr, "tearline: %s\n", printable(*told).c_str());
    std::fprintf(
        stderr, "%zu variants: %s\n", variants.all.size(),
        printable((std::filesystem::path(words.folder) / "variants.html").string()).c_str());
    return exit_done;
}

}  // namespace

void check_variations(const std::vector<std::string>& variations) {
    if (variants::count_combinations(read_variations(variations)) > variants::most_combinations)
        throw CLI::ValidationError(
            "--vary", "asks for more than " + std::to_string(variants::most_combinations) +
                          " combinations; vary fewer keys at once, or fewer values of each");
}

int run_vary(const VaryWords& words) {
    // Told before the work, not after it.
    const auto job = job::read_job_text(words.job);
    if (!job) return report(job.error());
    if (!words.folder.empty())
        if (const auto free = files::check_folder(words.folder); !free) return report(free.error());
    const bool watched = isatty(STDERR_FILENO) != 0;
    variants::VariantOptions options;
    options.after_ply = words.after_ply;
    if (watched)
        options.progress = [](std::size_t done, std::size_t all) {
            std::fprintf(stderr, "\r\033[K%zu of %zu variants", done, all);
            std::fflush(stderr);
        };
    const auto variants =
        variants::run_variants(words.job, read_variations(words.variations), options);
    if (watched) std::fprintf(stderr, "\r\033[K");
    if (!variants) return report(variants.error());
    std::fputs(variants::variants_text(*variants).c_str(), stderr);
    return words.folder.empty() ? exit_done : write(*variants, words, *job);
}

}  // namespace tearline::cli
