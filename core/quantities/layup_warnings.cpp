#include "core/quantities/layup_warnings.h"

#include <algorithm>
#include <map>
#include <string>
#include <utility>

#include "core/base/tolerances.h"
#include "core/quantities/tolerances.h"

namespace tearline::quantities {

namespace {

// Common practice: two layers over ground glass, so that one is left where the other is sanded.
constexpr int least_fresh_layers = 2;

/// Height over the floor up to which glass stays when the repair is sanded fair.
double fair_height(const Repair& repair, double floor) {
    const job::Job& job = repair.job;
    const double surface = floor - (job.topcoat.final_coat ? job.topcoat.thickness : 0.0);
    if (!job.layup.stack.empty() || job.layup.fill_to == job::FillTo::thickness) return surface;
    // Plies laid to match the old laminate stay, also above the surface.
    double stack = 0.0;
    const std::size_t covers = std::min(job.layup.cover.size(), repair.plies.size());
    for (std::size_t i = 0; i + covers < repair.plies.size(); ++i)
        stack += repair.plies[i].thickness_mm;
    return std::max(surface, stack);
}

bool is_roving(const templates::LaidPly& ply) {
    return ply.kind != job::FabricKind::mat;
}

void warn_of_rovings(const Repair& repair, Warnings& out) {
    // Epoxy bonds cloth to cloth and to ground glass; polyester wants the resin that mat holds.
    if (repair.job.resin.kind == job::ResinKind::epoxy || repair.plies.empty()) return;
    const templates::LaidPly& first = repair.plies.front();
    if (is_roving(first))
        out.push_back({.cause = warn::RovingOnGround{first.fabric}, .ply = first.number});
    // The same two cloths, one on the other, are one warning, however often they come.
    std::map<std::pair<std::string, std::string>, std::size_t> told;
    for (std::size_t i = 1; i < repair.plies.size(); ++i) {
        const templates::LaidPly &ply = repair.plies[i], &below = repair.plies[i - 1];
        if (!is_roving(ply) || !is_roving(below)) continue;
        const auto [before, fresh] = told.try_emplace({ply.fabric, below.fabric}, out.size());
        if (fresh)
            out.push_back(
                {.cause = warn::RovingsWithoutMat{ply.fabric, below.fabric}, .ply = ply.number});
        else
            std::get<warn::RovingsWithoutMat>(out[before->second].cause)
                .again.push_back(ply.number);
    }
}

void warn_of_few_layers(const Sanding& sanding, Warnings& out) {
    if (sanding.kept_plies < least_fresh_layers)
        out.push_back({warn::FewFreshLayers{sanding.kept_plies, true}});
    else if (sanding.plies_over_ground < least_fresh_layers)
        out.push_back({warn::FewFreshLayers{sanding.plies_over_ground, false}});
}

}  // namespace

Sanding sanding_of(const Repair& repair) {
    Sanding out;
    out.floor_mm =
        repair.volumes ? repair.volumes->deepest_mm + repair.built_mm : repair.job.damage.depth;
    const double fair = fair_height(repair, out.floor_mm);
    const double scarf = repair.dish.empty() ? 0.0 : repair.dish.back().x();
    // Half way through, the cured plies lie there already.
    double height = repair.built_mm;
    for (const templates::LaidPly& ply : repair.plies) {
        if (height + 0.5 * ply.thickness_mm <= fair + tolerance::level) ++out.kept_plies;
        if (ply.edge_offset_mm >= scarf - tolerance::scarf_rim) ++out.plies_over_ground;
        height += ply.thickness_mm;
    }
    out.sanding_mm = std::max(0.0, height - fair);
    out.kept_mm = std::min(height, fair);
    return out;
}

Warnings layup_warnings(const Repair& repair, const Sanding& sanding) {
    Warnings out;
    warn_of_rovings(repair, out);
    warn_of_few_layers(sanding, out);
    return out;
}

}  // namespace tearline::quantities
