#include "core/job/read_job.h"

#include <algorithm>

#include "core/job/effective_json.h"
#include "core/job/job_of.h"
#include "core/job/parse_toml.h"
#include "core/job/read_tables.h"
#include "core/job/read_text.h"

namespace tearline::job {

namespace {

/// Notes where each table and key stands, "hull" and "hull.model".
void note_lines(const Node& root, std::map<std::string, int>& lines) {
    for (const Node& item : root.items) {
        lines.emplace(item.key, item.line);
        for (const Node& key : item.items)
            if (!key.key.empty()) lines.emplace(item.key + "." + key.key, key.line);
    }
}

}  // namespace

bool is_blank(std::string_view text) {
    return text.find_first_not_of(" \t\r\n") == std::string_view::npos;
}

int lines_of(std::string_view text) {
    // What ends the last line begins none.
    const std::string_view inner = text.substr(0, text.empty() ? 0 : text.size() - 1);
    return 1 + static_cast<int>(std::count(inner.begin(), inner.end(), '\n'));
}

Result<Job> parse_job(std::string_view text, const std::filesystem::path& file,
                      const Changes& changes) {
    if (is_blank(text))
        return bad_file(file.string(),
                        "the job file is empty; `tearline new` writes one to start from", 1);
    auto root = parse_toml(text, file.string());
    if (!root) return tl::unexpected(root.error());
    if (const auto applied = apply_changes(*root, changes); !applied)
        return tl::unexpected(applied.error());
    for (const char* of_a_boat : {"repair", "remnant", "allow_overlap"})
        if (const Node* found = root->find(of_a_boat))
            return tl::unexpected(Error{.key = of_a_boat,
                                        .what =
                                            "is of a boat of several places, which "
                                            "`tearline plan FILE -o DIR` alone takes: give each "
                                            "place a job file of its own here",
                                        .file = file.string(),
                                        .line = found->line});
    return job_of(*root, file, lines_of(text));
}

Result<Job> job_of(const Node& root, const std::filesystem::path& file, int last_line) {
    Refusals refusals(file.string(), last_line);
    const JobSource source{&root, &refusals};
    Job job;
    job.file = file;
    note_lines(root, job.lines);
    KeyReader<Job>(refusals, &root, "", job_keys(), job, job).rest();
    read_hull(source, job);
    read_marks(source, job);
    read_damage(source, job);
    source.table(scarf_keys(), job.scarf, job).rest();
    read_fabrics(source, job);
    read_layup(source, job);
    read_resin(source, job);
    read_through(source, job);
    read_topcoat(source, job);
    source.table(laminator_keys(), job.laminator, job).rest();
    read_shop(source, job);
    read_old_laminate(source, job);
    read_prices(source, job);
    check_taped_points(source, job);
    if (refusals.first()) return tl::unexpected(*refusals.first());
    job.effective_json = effective_json(job);
    return job;
}

Result<std::string> read_job_text(const std::filesystem::path& file) {
    constexpr std::size_t most = (1u << 20u) + 1u;
    return read_text(file, most, "a job file");
}

Result<Job> read_job(const std::filesystem::path& file) {
    const auto text = read_job_text(file);
    if (!text) return tl::unexpected(text.error());
    return parse_job(*text, file);
}

}  // namespace tearline::job
