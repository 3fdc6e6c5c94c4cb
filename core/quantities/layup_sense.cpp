#include "core/quantities/layup_sense.h"

#include <algorithm>
#include <map>
#include <string>

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

Warning of_ply(std::string code, std::string message, const templates::LaidPly& ply) {
    Warning warning = warning_of(std::move(code), std::move(message));
    warning.ply = ply.number;
    return warning;
}

void warn_of_rovings(const Repair& repair, Warnings& out) {
    // Epoxy bonds cloth to cloth and to ground glass; polyester wants the resin that mat holds.
    if (repair.job.resin.kind == job::ResinKind::epoxy || repair.plies.empty()) return;
    const templates::LaidPly& first = repair.plies.front();
    if (is_roving(first))
        out.push_back(of_ply("roving-on-ground",
                             first.fabric +
                                 " lies straight on ground glass: it bridges the scratches and "
                                 "holds too little resin to bond; lay a mat first",
                             first));
    // The same two cloths, one on the other, are one warning, however often they come.
    std::map<std::string, std::size_t> told;
    for (std::size_t i = 1; i < repair.plies.size(); ++i) {
        const templates::LaidPly &ply = repair.plies[i], &below = repair.plies[i - 1];
        if (!is_roving(ply) || !is_roving(below)) continue;
        const std::string message = ply.fabric + " follows " + below.fabric +
                                    " with no mat between: the two peel apart easily; lay a mat "
                                    "between them";
        const auto [before, fresh] = told.try_emplace(message, out.size());
        if (fresh) {
            out.push_back(of_ply("rovings-without-mat", message, ply));
            continue;
        }
        Warning& text = out[before->second];
        say_more(text,
                 (text.message == message ? "; likewise ply " : ", ") + std::to_string(ply.number));
    }
}

/// "1 fresh layer stays", "0 fresh layers stay".
std::string layers_words(int layers, const char* all, const char* one) {
    return std::to_string(layers) + " fresh layer" + (layers == 1 ? " " : "s ") +
           (layers == 1 ? one : all);
}

void warn_of_few_layers(const Sanding& sanding, Warnings& out) {
    std::string message;
    if (sanding.kept_plies < least_fresh_layers)
        message = layers_words(sanding.kept_plies, "stay", "stays") +
                  " over the floor when the repair is sanded fair";
    else if (sanding.plies_over_ground < least_fresh_layers)
        message = layers_words(sanding.plies_over_ground, "reach", "reaches") +
                  " over all the ground glass";
    if (message.empty()) return;
    out.push_back(warning_of("few-fresh-layers",
                             message + ": sanding will bare the old glass; two at least are common "
                                       "practice. Add cover plies, use lighter cloth, or grind "
                                       "deeper"));
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
