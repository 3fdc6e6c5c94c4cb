#include "core/batch/results_file.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <nlohmann/json.hpp>
#include <vector>

#include "core/batch/result_lines.h"

namespace tearline::batch {

namespace fs = std::filesystem;

namespace {

tl::unexpected<Error> cannot_write(const fs::path& file) {
    return output_failed(file.string(), std::string("cannot be written: ") + std::strerror(errno));
}

/// Whether the name still leads to the file that was opened: another run may have put a new one in
/// its place.
bool is_still(const fs::path& file, const files::Descriptor& opened) {
    struct stat by_name {
    }, by_number{};
    return stat(file.c_str(), &by_name) == 0 && fstat(opened.number(), &by_number) == 0 &&
           by_name.st_dev == by_number.st_dev && by_name.st_ino == by_number.st_ino;
}

/// A file system without such locks is one machine's own, mostly: what holds it then is the person.
Result<void> hold(const fs::path& file, const files::Descriptor& opened) {
    while (flock(opened.number(), LOCK_EX | LOCK_NB) != 0) {
        if (errno == EINTR) continue;
        if (errno != EWOULDBLOCK) return {};
        return output_failed(file.string(),
                             "another run is writing there; wait until it is done, or write into "
                             "another folder");
    }
    return {};
}

Result<files::Descriptor> open_and_hold(const fs::path& file) {
    for (;;) {
        files::Descriptor opened(
            ::open(file.c_str(), O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC, 0666));
        if (!opened.is_open()) return cannot_write(file);
        struct stat found {};
        if (fstat(opened.number(), &found) != 0 || !S_ISREG(found.st_mode))
            return output_failed(file.string(), "is no file that results could stand in");
        if (auto held = hold(file, opened); !held) return tl::unexpected(held.error());
        if (is_still(file, opened)) return opened;
    }
}

Result<void> write_all(const fs::path& file, const files::Descriptor& out, std::string_view text) {
    while (!text.empty()) {
        const ssize_t wrote = write(out.number(), text.data(), text.size());
        if (wrote < 0 && errno != EINTR) return cannot_write(file);
        if (wrote > 0) text.remove_prefix(static_cast<std::size_t>(wrote));
    }
    return {};
}

using Stays = std::function<bool(const KnownResult&)>;

/// Of each line whether it stays; one without its end never does.
Result<std::vector<bool>> which_stay(const fs::path& file, const Stays& stays) {
    std::vector<bool> kept;
    ResultLines lines(file);
    while (lines.next()) {
        const auto known = lines.is_whole() ? read_result(lines.line()) : std::nullopt;
        kept.push_back(known && stays(*known));
    }
    if (lines.too_long()) return output_failed(file.string(), no_results_file);
    return kept;
}

/// Puts a new file with the lines that stay in the old one's place, held from the first.
Result<files::Descriptor> rewritten(const fs::path& file, const std::vector<bool>& stay) {
    const fs::path fresh = file.parent_path() / ("." + file.filename().string() + ".new");
    files::Descriptor out(
        ::open(fresh.c_str(), O_RDWR | O_APPEND | O_CREAT | O_TRUNC | O_CLOEXEC, 0666));
    if (!out.is_open()) return cannot_write(fresh);
    if (auto held = hold(fresh, out); !held) return tl::unexpected(held.error());
    ResultLines lines(file);
    for (const bool stays : stay) {
        if (!lines.next() || !stays) continue;
        if (auto written = write_all(fresh, out, lines.line() + "\n"); !written)
            return tl::unexpected(written.error());
    }
    if ((fsync(out.number()) != 0 && errno != EINVAL) ||
        std::rename(fresh.c_str(), file.c_str()) != 0)
        return cannot_write(file);
    return out;
}

}  // namespace

std::string results_name(const std::optional<Slice>& slice) {
    if (!slice) return "results.jsonl";
    return "results-" + std::to_string(slice->k) + "-of-" + std::to_string(slice->n) + ".jsonl";
}

bool is_results_name(std::string_view name) {
    if (name == results_name({})) return true;
    constexpr std::string_view before = "results-", of = "-of-", after = ".jsonl";
    if (!name.starts_with(before) || !name.ends_with(after)) return false;
    std::string slice(name.substr(before.size(), name.size() - before.size() - after.size()));
    const auto at = slice.find(of);
    if (at == std::string::npos) return false;
    return read_slice(slice.replace(at, of.size(), "/")).has_value();
}

std::optional<KnownResult> read_result(std::string_view line) {
    const auto json = nlohmann::json::parse(line, nullptr, false);
    if (!json.is_object()) return std::nullopt;
    const auto at = [&](const nlohmann::json& of, const char* key) {
        const auto found = of.find(key);
        return found == of.end() ? nlohmann::json() : *found;
    };
    const auto job = at(json, "job"), status = at(json, "status"), hashes = at(json, "sha256");
    if (!job.is_string() || !hashes.is_object()) return std::nullopt;
    KnownResult known;
    known.job = job;
    // A process ends with a byte.
    if (status.is_number_integer() && status >= 0 && status <= 255)
        known.status.exit = status;
    else if (status == "signal")
        known.status.kind = Status::Kind::by_signal;
    else if (status == "limit")
        known.status.kind = Status::Kind::over_limit;
    else
        return std::nullopt;
    const auto hash = [&](const char* key) -> std::optional<std::string> {
        const auto value = at(hashes, key);
        return value.is_string() ? std::optional(value.get<std::string>()) : std::nullopt;
    };
    known.origin = {hash("job"), hash("model"), hash("options").value_or(""),
                    hash("program").value_or("")};
    return known;
}

Result<ResultsFile> ResultsFile::open(const fs::path& file, const Stays& stays) {
    ResultsFile results;
    results.path_ = file;
    auto opened = open_and_hold(file);
    if (!opened) return tl::unexpected(opened.error());
    const auto stay = which_stay(file, stays);
    if (!stay) return tl::unexpected(stay.error());
    if (std::find(stay->begin(), stay->end(), false) != stay->end()) {
        auto fresh = rewritten(file, *stay);
        if (!fresh) return tl::unexpected(fresh.error());
        *opened = *std::move(fresh);
    }
    results.file_ = *std::move(opened);
    return results;
}

Result<void> ResultsFile::add(const std::string& line) {
    const std::string whole = line + "\n";
    struct stat before {};
    fstat(file_.number(), &before);
    ssize_t wrote = 0;
    do {
        wrote = write(file_.number(), whole.data(), whole.size());
    } while (wrote < 0 && errno == EINTR);
    if (wrote == static_cast<ssize_t>(whole.size())) return {};
    // A full disk: the line is not there, and its job is done again by a later run.
    if (wrote >= 0) errno = ENOSPC;
    const auto failed = cannot_write(path_);
    if (ftruncate(file_.number(), before.st_size) != 0) return failed;
    return failed;
}

void ResultsFile::sync() const {
    fsync(file_.number());
}

}  // namespace tearline::batch
