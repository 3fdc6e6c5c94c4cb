#include "core/files/origin.h"

#include <elf.h>
#include <link.h>

#include <cstring>
#include <filesystem>
#include <fstream>
#include <vector>

#include "core/base/sha256.h"
#include "core/hull/model_file.h"

namespace tearline::files {

namespace {

Result<std::string> file_sha256(const std::filesystem::path& file) {
    std::error_code failed;
    // Not of a pipe, whose opening alone waits: what it holds is gone once it is read.
    const auto size = std::filesystem::file_size(file, failed);
    if (failed || size > hull::largest_model_file)
        return bad_file(file.string(), "cannot be read");
    std::ifstream in(file, std::ios::binary);
    if (!in) return bad_file(file.string(), "cannot be read");
    std::string bytes(size, '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!in) return bad_file(file.string(), "cannot be read");
    return sha256_hex(bytes);
}

/// The build id among the notes of a segment; "" where there is none.
std::string_view build_id_among(const dl_phdr_info& program, const ElfW(Phdr) & segment) {
    constexpr std::size_t word = 4;  // [bytes] that everything in a note begins at a multiple of
    const auto padded = [](std::size_t size) { return (size + word - 1) / word * word; };
    const std::string_view notes(reinterpret_cast<const char*>(program.dlpi_addr + segment.p_vaddr),
                                 segment.p_memsz);
    for (std::size_t at = 0; at + sizeof(ElfW(Nhdr)) <= notes.size();) {
        ElfW(Nhdr) head{};
        std::memcpy(&head, notes.data() + at, sizeof head);
        const std::size_t name = at + sizeof head, id = name + padded(head.n_namesz);
        at = id + padded(head.n_descsz);
        if (at > notes.size()) break;
        if (head.n_type == NT_GNU_BUILD_ID &&
            notes.substr(name, head.n_namesz) == std::string_view("GNU", 4))
            return notes.substr(id, head.n_descsz);
    }
    return {};
}

/// What the linker made of all that it put into this program, whose file is 14 MB long; "" where it
/// left none.
std::string_view build_id() {
    std::string_view found;
    // The program itself comes first among what is loaded.
    dl_iterate_phdr(
        [](dl_phdr_info* loaded, std::size_t, void* out) {
            for (int i = 0; i < loaded->dlpi_phnum; ++i)
                if (loaded->dlpi_phdr[i].p_type == PT_NOTE)
                    if (const auto id = build_id_among(*loaded, loaded->dlpi_phdr[i]); !id.empty())
                        *static_cast<std::string_view*>(out) = id;
            return 1;
        },
        &found);
    return found;
}

}  // namespace

const std::string& program_sha256() {
    static const std::string hash = [] {
        const std::string_view build = build_id();
        return build.empty() ? file_sha256("/proc/self/exe").value_or("") : sha256_hex(build);
    }();
    return hash;
}

Result<std::optional<std::string>> models_sha256(const job::Job& job,
                                                 std::string_view hull_sha256) {
    std::vector<std::string> hashes;
    if (!job.hull.by_hand() && !hull_sha256.empty()) hashes.emplace_back(hull_sha256);
    std::vector<std::filesystem::path> to_read;
    if (!job.hull.by_hand() && hull_sha256.empty()) to_read.push_back(job.hull.model);
    if (job.damage.scan) to_read.push_back(job.damage.scan->model);
    for (const job::DishScan& scan : job.damage.scans_after) to_read.push_back(scan.model);
    for (const std::filesystem::path& file : to_read) {
        auto hash = file_sha256(file);
        if (!hash) return tl::unexpected(hash.error());
        hashes.push_back(*std::move(hash));
    }
    if (hashes.empty()) return std::nullopt;
    if (hashes.size() == 1) return hashes.front();
    std::string all;
    for (const std::string& hash : hashes) all += hash;
    return sha256_hex(all);
}

}  // namespace tearline::files
