#include "core/batch/job_list.h"

#include <charconv>
#include <sstream>
#include <unordered_map>

#include "core/base/printable.h"
#include "core/base/sha256.h"
#include "core/job/read_text.h"

namespace tearline::batch {

namespace {

/// U+FEFF, which some editors put at the beginning of a file: no part of the first name.
constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

constexpr std::size_t most_bytes = 64'000'000;  // some million jobs

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

std::optional<int> whole_number(std::string_view text) {
    int number = 0;
    const auto [end, failed] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (failed != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return number;
}

}  // namespace

Result<std::vector<std::string>> read_job_list(const std::filesystem::path& list) {
    auto text = job::read_text(list, most_bytes + 1, "a text file with a job file a line");
    if (!text) return tl::unexpected(text.error());
    if (text->size() > most_bytes)
        return bad_file(list.string(), "holds more than 64 MB: is this a list of job files?");
    std::istringstream in(*std::move(text));
    std::vector<std::string> jobs;
    std::unordered_map<std::string, int> lines;
    int number = 0;
    for (std::string line; std::getline(in, line);) {
        ++number;
        if (number == 1 && line.starts_with(byte_order_mark)) line.erase(0, byte_order_mark.size());
        const std::string name(trimmed(line));
        if (name.empty() || name.front() == '#') continue;
        if (printable(name) != name)
            return bad_file(list.string(),
                            "'" + printable(name) + "' holds what is no printable UTF-8", number);
        const auto [first, fresh] = lines.emplace(name, number);
        if (!fresh)
            return bad_file(list.string(),
                            "'" + name + "' stands already in line " +
                                std::to_string(first->second) + "; keep one",
                            number);
        jobs.push_back(name);
    }
    if (jobs.empty())
        return bad_file(list.string(), "holds no job; write the name of a job file a line");
    return jobs;
}

std::optional<Slice> read_slice(std::string_view text) {
    const auto stroke = text.find('/');
    if (stroke == std::string_view::npos) return std::nullopt;
    const auto k = whole_number(text.substr(0, stroke)), n = whole_number(text.substr(stroke + 1));
    if (!k || !n || *k < 1 || *k > *n) return std::nullopt;
    return Slice{*k, *n};
}

std::vector<std::string> jobs_of_slice(const std::vector<std::string>& jobs,
                                       const std::optional<Slice>& slice) {
    if (!slice) return jobs;
    std::vector<std::string> held;
    for (std::size_t i = 0; i < jobs.size(); ++i)
        if (slice->holds(i)) held.push_back(jobs[i]);
    return held;
}

std::string plan_folder(const std::string& job) {
    constexpr std::size_t shard_digits = 2, name_digits = 8, longest_stem = 100;  // [bytes]
    const std::string hash = sha256_hex(job);
    std::string stem = std::filesystem::path(job).stem().string();
    if (stem.size() > longest_stem) {
        std::size_t end = longest_stem;
        while (end > 0 && (static_cast<unsigned char>(stem[end]) & 0xC0u) == 0x80u) --end;
        stem.resize(end);
    }
    // Hidden names are those of working folders.
    if (stem.starts_with('.')) stem.front() = '_';
    return "plans/" + hash.substr(0, shard_digits) + "/" + stem + "-" + hash.substr(0, name_digits);
}

}  // namespace tearline::batch
