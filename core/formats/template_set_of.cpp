#include "core/formats/template_set_of.h"

#include <utility>

#include "core/job/title_of.h"
#include "core/templates/directions.h"

namespace tearline::formats {

namespace {

void add_pieces(const std::vector<templates::LaidPly>& plies, templates::TemplateSet& set) {
    for (const templates::LaidPly& ply : plies)
        for (const templates::LaidPiece& piece : ply.pieces)
            set.pieces.push_back({piece.piece.id, ply.number, ply.fabric,
                                  ply.kind == job::FabricKind::mat, piece.outline});
}

/// Station cards of the far face, to be set up behind it: turned over, from one base line.
void add_stations(const Plan& plan, templates::TemplateSet& set) {
    if (set.parts.empty()) {
        templates::TemplateSet whole = set;
        set.parts.push_back(std::move(whole));
    }
    templates::TemplateSet part = set;
    part.pieces.clear();
    part.parts.clear();
    part.guide = {};
    part.sections.clear();
    part.part = "stations";
    for (const plan::Station& station : plan.backing->stations) {
        templates::Section card{station.name, station.edge, 90.0, station.ends, 0.0};
        for (Vec2& point : card.edge) point.y() = -point.y();
        part.sections.push_back(std::move(card));
    }
    set.parts.push_back(std::move(part));
}

/// What closes a hole stands by itself beside the parts, and among the pieces of a repair of one.
void add_closing(const Plan& plan, templates::TemplateSet& set) {
    const auto add = [&](const std::vector<templates::LaidPly>& plies, const char* name) {
        add_pieces(plies, set);
        if (plan.parts.empty() || plies.empty()) return;
        templates::TemplateSet part = set;
        part.pieces.clear();
        part.parts.clear();
        part.guide = {};
        part.sections.clear();
        add_pieces(plies, part);
        part.part = name;
        set.parts.push_back(std::move(part));
    };
    if (plan.backing) add(plan.backing->pieces, "backing");
    if (plan.backing && !plan.backing->stations.empty()) add_stations(plan, set);
    if (plan.core) add(plan.core->pieces, "core");
}

}  // namespace

templates::TemplateSet template_set_of(const Plan& plan) {
    templates::TemplateSet set;
    set.title = job::title_of(plan.job);
    set.model = plan.job.hull.model.filename().string();
    set.job_id = plan.model_sha256.substr(0, 8);
    add_pieces(plan.plies, set);
    set.guide = plan.place.grind_guide;
    set.sections = plan.place.sections;
    set.epoxy = plan.job.resin.kind == job::ResinKind::epoxy;
    set.flat = plan.flat.has_value();
    if (set.flat)  // cut, whatever it is
        for (templates::PieceTemplate& piece : set.pieces) piece.mat = false;
    set.units = plan.job.display_units;
    set.ends = templates::directions(plan.place.frame, plan.job.hull.bow, plan.job.hull.up).ends;
    for (const Plan& part : plan.parts) {
        set.parts.push_back(template_set_of(part));
        set.parts.back().part = part.job.part.name;
    }
    add_closing(plan, set);
    return set;
}

}  // namespace tearline::formats
