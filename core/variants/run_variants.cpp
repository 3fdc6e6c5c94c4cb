#include "core/variants/run_variants.h"

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "core/batch/run_tasks.h"
#include "core/files/interruption.h"
#include "core/files/origin.h"
#include "core/variants/combinations.h"

namespace tearline::variants {

namespace {

using Json = nlohmann::json;

Json at(const Json& json, const char* key) {
    const auto found = json.find(key);
    return found == json.end() ? Json() : *found;
}

std::string text_at(const Json& json, const char* key) {
    const Json value = at(json, key);
    return value.is_string() ? value.get<std::string>() : "";
}

/// Every number of an object under its own name.
void take_figures(const Json& json, Variant& variant) {
    if (!json.is_object()) return;
    for (const auto& [key, value] : json.items())
        if (value.is_number()) variant.figures[key] = value;
}

void take_warnings(const Json& warnings, Variant& variant) {
    for (const Json& warning : warnings) {
        Caution caution{WarningRank::know, text_at(warning, "code"), text_at(warning, "message")};
        for (const WarningRank rank : warning_ranks)
            if (text_at(warning, "rank") == rank_key(rank)) caution.rank = rank;
        variant.warnings.push_back(std::move(caution));
    }
}

void take_rings(const Json& rings, Variant& variant) {
    for (const Json& from : rings) {
        Ring ring;
        ring.ply = from.at("ply");
        for (const Json& points : from.at("loops")) {
            Loop2 loop;
            for (const Json& point : points) loop.emplace_back(point.at(0), point.at(1));
            ring.loops.push_back(std::move(loop));
        }
        variant.rings.push_back(std::move(ring));
    }
}

/// What a worker told of one combination.
Variant variant_of(const batch::Outcome& outcome, const job::Changes& changes) {
    Variant variant;
    for (const job::Change& change : changes) variant.values.push_back(change.text);
    variant.status = outcome.status;
    const Json json = Json::parse(outcome.line);
    variant.message = text_at(json, "message");
    take_figures(json, variant);
    take_figures(at(json, "totals"), variant);
    take_warnings(at(json, "warnings"), variant);
    const Json what_if = at(json, "what_if");
    if (!what_if.is_object()) return variant;
    take_figures(what_if, variant);
    const Json laminate = at(what_if, "laminate");
    take_figures(laminate, variant);
    variant.weaker = laminate.is_object() && laminate.value("weaker", false);
    variant.cost_complete = what_if.value("cost_complete", false);
    take_rings(at(what_if, "rings"), variant);
    variant.title = text_at(what_if, "title");
    variant.currency = text_at(what_if, "currency");
    variant.units = what_if.value("us", false) ? Units::us : Units::metric;
    return variant;
}

/// Title, currency and units are those of the first that is done; costs in another currency are not
/// compared with its.
void take_common(const Variant& first, Variants& whole) {
    whole.title = first.title;
    whole.currency = first.currency;
    whole.units = first.units;
    for (Variant& variant : whole.all)
        if (variant.currency != first.currency) variant.cost_complete = false;
}

/// Why there is nothing to choose among.
tl::unexpected<Error> nothing_planned(const Variant& first) {
    const batch::Status& status = first.status;
    if (status.kind == batch::Status::Kind::over_limit || status.exit == 4)
        return no_safe_answer(first.message);
    if (status.exit == 3) return bad_input(first.message);
    if (status.exit == 5) return output_failed(first.message);
    throw std::runtime_error(first.message);
}

}  // namespace

Result<Variants> run_variants(const std::filesystem::path& job,
                              const std::vector<job::Variation>& variations,
                              const VariantOptions& options) {
    const files::Interruption interruption;
    Variants out;
    for (const job::Variation& variation : variations) out.keys.push_back(variation.key);
    const std::vector<job::Changes> wanted = combinations(variations);
    out.all.resize(wanted.size());
    std::size_t done = 0;
    const auto task = [&](std::size_t index) {
        batch::Task task;
        task.room = std::filesystem::current_path();
        task.job = job.string();
        task.changes = wanted[index];
        task.after_ply = options.after_ply;
        task.lean = true;
        task.what_if = true;
        task.limits = options.limits;
        task.reading = hull::read_limits();
        task.program = files::program_sha256();
        return task;
    };
    const auto finished = [&](std::size_t index, const batch::Outcome& outcome) -> Result<void> {
        out.all[index] = variant_of(outcome, wanted[index]);
        if (options.progress) options.progress(++done, wanted.size());
        return {};
    };
    if (const auto ran = batch::run_tasks(wanted.size(), task, finished); !ran)
        return tl::unexpected(ran.error());
    for (const Variant& variant : out.all)
        if (variant.status.is_done()) {
            take_common(variant, out);
            return out;
        }
    return nothing_planned(out.all.front());
}

}  // namespace tearline::variants
