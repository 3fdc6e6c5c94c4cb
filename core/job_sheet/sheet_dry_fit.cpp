#include <map>
#include <set>

#include "core/formats/svg.h"
#include "core/job_sheet/sheet_parts.h"
#include "core/job_sheet/sheet_words.h"
#include "core/job_sheet/torn_band_picture.h"

namespace tearline::job_sheet {

namespace {

/// "9 pieces of mat 450 (1A, 2A)", by fabric.
std::string pieces_of(const Plan& plan, bool mat) {
    std::map<std::string, std::pair<int, std::string>> by_fabric;
    for (const templates::LaidPly& ply : plan.plies) {
        if ((ply.kind == job::FabricKind::mat) != mat) continue;
        auto& [count, ids] = by_fabric[ply.fabric];
        for (const templates::LaidPiece& piece : ply.pieces) {
            ++count;
            ids += (ids.empty() ? "" : " ") + piece.piece.id;
        }
    }
    std::string out;
    for (const auto& [fabric, counted] : by_fabric)
        out += (out.empty() ? "" : "; ") + std::to_string(counted.first) + " of " +
               formats::escaped(fabric) + " (" + counted.second + ")";
    return out;
}

std::set<double> tear_margins(const Plan& plan) {
    std::set<double> margins;
    for (const templates::LaidPly& ply : plan.plies)
        if (ply.kind == job::FabricKind::mat)
            margins.insert(plan.job.fabrics.at(ply.fabric).tear_margin);
    margins.erase(0.0);
    return margins;
}

std::string copies_words(const Plan& plan) {
    const int copies = plan.job.layup.copies;
    return copies > 1 ? ", " + std::to_string(copies) + " times" : "";
}

}  // namespace

std::string dry_fit(const Plan& plan) {
    std::string out = section("Tear, cut and fit dry");
    const std::string torn = pieces_of(plan, true), cut = pieces_of(plan, false);
    if (!torn.empty())
        out +=
            to_tick(tag("b", "Tear") + copies_words(plan) + ", before any cup is mixed: " + torn +
                    ". Hold a ruler on the line and pull; tear, never cut, the edge.");
    for (const double margin : tear_margins(plan))
        out += tag("p", torn_band_picture(plan, margin)) + "\n";
    if (!cut.empty())
        out += to_tick(tag("b", "Cut") + copies_words(plan) + ", before any cup is mixed: " + cut +
                       ". Arrow along the warp.");
    const std::string side = plan.job.damage.side == job::Side::outside ? "outside" : "inside";
    out += to_tick(tag("b", "Dry fit") + ", laid from the " + side +
                   ": every piece in order, its number and this-side-up towards you, arrow to the "
                   "bow, match marks meeting. Stack them stage by stage, the first on top.");
    return out;
}

}  // namespace tearline::job_sheet
