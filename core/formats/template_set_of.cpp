#include "core/formats/template_set_of.h"

#include "core/templates/directions.h"

namespace tearline::formats {

templates::TemplateSet template_set_of(const Plan& plan) {
    templates::TemplateSet set;
    set.title = plan.job.title.empty() ? plan.job.file.stem().string() : plan.job.title;
    set.model = plan.job.hull.model.filename().string();
    set.job_id = plan.model_sha256.substr(0, 8);
    for (const templates::LaidPly& ply : plan.plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            set.pieces.push_back({piece.piece.id, ply.number, ply.fabric,
                                  ply.kind == job::FabricKind::mat, piece.outline});
    set.guide = plan.place.grind_guide;
    set.sections = plan.place.sections;
    set.epoxy = plan.job.resin.kind == job::ResinKind::epoxy;
    set.units = plan.job.display_units;
    set.ends = templates::directions(plan.place.frame, plan.job.hull.bow, plan.job.hull.up).ends;
    return set;
}

}  // namespace tearline::formats
