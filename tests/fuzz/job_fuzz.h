#pragma once
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "core/job/boat_job.h"
#include "core/job/read_job.h"

namespace tearline::fuzz {

/// A refusal names the file.
inline bool is_good_refusal(const Error& error) {
    return error.kind == ErrorKind::bad_input && error.message().rfind("fuzz.toml:", 0) == 0 &&
           error.message().size() < 2000;
}

/// A job that was read has what every later stage relies on.
inline bool is_whole(const job::Job& job) {
    const job::Damage& damage = job.damage;
    // What another key tells or a stage finds is 0 till then.
    const bool deep_later = damage.through || damage.reaches || !damage.soundings.empty() ||
                            damage.scanned(job.hull.scan);
    return (damage.depth > 0.0 || (deep_later && damage.depth == 0.0)) && job.scarf.ratio > 0.0 &&
           !job.effective_json.empty() &&
           (damage.centre.has_value() || damage.outline.size() >= 3) &&
           (job.layup.stack.empty() != job.layup.fill.empty());
}

/// The same of a boat; its places and remnants have names, and its remnants a cloth.
inline bool is_whole(const job::BoatJob& boat) {
    for (const job::Repair& repair : boat.repairs)
        if (repair.name.empty() || repair.name.find_first_of("./\\") != std::string::npos ||
            repair.job.effective_json.empty() || !(repair.job.scarf.ratio > 0.0))
            return false;
    for (const job::Remnant& remnant : boat.remnants)
        if (remnant.name.empty() || !boat.repairs.front().job.fabrics.contains(remnant.fabric))
            return false;
    return !boat.repairs.empty();
}

/// Feeds bytes to the job reader; false when what it answers breaks its contract.
inline bool job_reader_holds(const std::string& text) {
    const auto job = job::parse_any_job(text, "fuzz.toml");
    if (!job) return is_good_refusal(job.error());
    return std::visit([](const auto& read) { return is_whole(read); }, *job);
}

}  // namespace tearline::fuzz
