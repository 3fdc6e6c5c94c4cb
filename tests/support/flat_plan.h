#pragma once
#include <cmath>
#include <numbers>

#include "core/plan/label_plies.h"
#include "core/plan/plan.h"
#include "core/templates/line_names.h"
#include "core/templates/make_grind_guide.h"
#include "core/templates/make_template.h"

/// A plan made by hand: a flat panel on a starboard side, damage of 60 mm radius, a mat, a woven
/// and a covering mat ply. Flat plies need no flattening, so every outline is known in closed form.
namespace tearline::test_support {

struct FlatPlanOptions {
    bool lopsided = false;  ///< an outline without any symmetry instead of a circle
    double turn = 0.0;      ///< [rad] of the lopsided outline's bulges against each other
    double hole = 0.0;      ///< [-] of the pieces' own size: a hole in their middle, 0 for none
    int sectors = 360;
    std::string title = "Curlew 6 m workboat, starboard side";
};

inline constexpr double flat_damage_radius = 60.0;  // [mm]
inline constexpr double flat_ratio = 12.0;
// Thicknesses by the mass balance of SOURCES.md section 2: 450 g/m2 mat at 30 %, 600 g/m2 woven at
// 48 %, 300 g/m2 mat at 30 %.
inline constexpr std::array<double, 3> flat_thickness = {1.050781, 0.776042, 0.700521};
inline constexpr std::array<double, 3> flat_offset = {12.609372, 21.921876, 46.921876};

class FlatPlanMaker {
public:
    explicit FlatPlanMaker(const FlatPlanOptions& options) : options_(options) {
        frame_.middle = Vec3(1800, -640, 420);
        frame_.normal = Vec3(0, -1, 0);
        frame_.x = Vec3(1, 0, 0);
        frame_.y = Vec3(0, 0, 1);
    }

    Plan make() {
        plan_.place.frame = frame_;
        fill_job();
        plan_.place.damage = on_base(0.0);
        plan_.place.areas.damage_mm2 = area({loop(0.0), {}});
        plan_.place.areas.damage_perimeter_mm = perimeter(loop(0.0));
        plan_.place.scarf = {on_base(flat_offset[1])};
        plan_.place.areas.scarf_mm2 = area({loop(flat_offset[1]), {}});
        for (int k = 0; k < 3; ++k) add_ply(k);
        const double widest = flat_offset[2] + 20.0;
        plan_.place.footprint = {on_base(widest)};
        plan_.place.areas.footprint_mm2 = area({loop(widest), {}});
        fill_rest(widest);
        for (templates::LaidPly& ply : plan_.plies)
            for (templates::LaidPiece& piece : ply.pieces) templates::name_lines(piece.outline);
        plan_.plies = plan::labelled(std::move(plan_.plies), plan_.quantities.plies, plan_.warnings,
                                     {plan_.job, {}}, plan_.place.frame);
        return plan_;
    }

    /// The outline at an offset outside the damage, flat about the middle.
    Loop2 loop(double offset) const {
        Loop2 points;
        for (int i = 0; i < options_.sectors; ++i) {
            const double a = 2.0 * std::numbers::pi * i / options_.sectors;
            points.push_back(radius(offset, a) * Vec2(std::cos(a), std::sin(a)));
        }
        return points;
    }

private:
    double radius(double offset, double angle) const {
        const double shape = options_.lopsided ? 1.0 + 0.25 * std::cos(angle - 0.6) +
                                                     0.1 * std::cos(2 * angle + 0.3 + options_.turn)
                                               : 1.0;
        return flat_damage_radius * shape + offset;
    }
    Vec3 base_point(const Vec2& p) const {
        return frame_.middle + p.x() * frame_.x + p.y() * frame_.y;
    }
    Region3 on_base(double offset) const {
        Region3 region;
        for (const Vec2& p : loop(offset)) region.outer.push_back(base_point(p));
        return region;
    }

    void fill_job() {
        plan_.job.title = options_.title;
        plan_.job.file = "flat.toml";
        plan_.job.hull.model = "flat-panel.step";
        plan_.job.damage.depth = flat_thickness[0] + flat_thickness[1];
        plan_.job.resin.hardener_percent = 1.25;
        plan_.model_sha256 = std::string(64, '0');
        plan_.job.effective_json = R"({"tearline":1})";
        const auto add = [this](const char* name, job::FabricKind kind, double weight,
                                double content) {
            job::Fabric fabric;
            fabric.name = name;
            fabric.kind = kind;
            fabric.weight = GramsPerSquareMetre(weight);
            fabric.glass_content = content;
            plan_.job.fabrics[name] = fabric;
        };
        add("mat 450", job::FabricKind::mat, 450, 0.30);
        add("roving 600", job::FabricKind::woven, 600, 0.48);
        add("mat 300", job::FabricKind::mat, 300, 0.30);
    }

    pieces::Piece piece(const std::string& id, double offset, double depth) const {
        constexpr int rings = 12;
        pieces::Piece made;
        made.id = id;
        const bool whole = options_.hole == 0.0;
        if (whole) made.flat.emplace_back(0, 0);
        for (int ring = whole ? 1 : 0; ring <= rings; ++ring)
            for (const Vec2& p : loop(offset))
                made.flat.push_back(p * (options_.hole + (1.0 - options_.hole) * ring / rings));
        const int n = options_.sectors;
        const auto at = [n, whole](int ring, int i) {
            if (!whole) return ring * n + i % n;
            return ring == 0 ? 0 : 1 + (ring - 1) * n + i % n;
        };
        for (int ring = 0; ring < rings; ++ring) {
            for (int i = 0; i < n; ++i) {
                made.lay.triangle.push_back({at(ring, i), at(ring + 1, i), at(ring + 1, i + 1)});
                if (ring > 0 || !whole)
                    made.lay.triangle.push_back(
                        {at(ring, i), at(ring + 1, i + 1), at(ring, i + 1)});
            }
        }
        for (const Vec2& p : made.flat) {
            made.base.push_back(base_point(p));
            made.lay.position.push_back(base_point(p) - depth * frame_.normal);
        }
        made.chart = made.flat;
        made.lay.corner_normal.assign(made.lay.triangle.size(),
                                      {frame_.normal, frame_.normal, frame_.normal});
        made.stretch.assign(made.lay.triangle.size(), {1.0, 1.0});
        surface::set_arc_lengths(made.lay);
        return made;
    }

    void add_ply(int k) {
        const auto i = static_cast<std::size_t>(k);
        const std::array<const char*, 3> fabrics = {"mat 450", "roving 600", "mat 300"};
        const job::Fabric& fabric = plan_.job.fabrics.at(fabrics[i]);
        templates::LaidPly ply;
        ply.number = k + 1;
        ply.fabric = fabric.name;
        ply.kind = fabric.kind;
        ply.cover = k == 2;
        ply.thickness_mm = flat_thickness[i];
        ply.edge_offset_mm = flat_offset[i];
        double below = 0.0;
        for (std::size_t j = 0; j < i; ++j) below += flat_thickness[j];
        ply.lay_depth_mm = plan_.job.damage.depth - below - 0.5 * flat_thickness[i];
        ply.outlines_3d = {on_base(flat_offset[i])};
        templates::LaidPiece planned;
        planned.piece = piece(std::to_string(k + 1) + "A", flat_offset[i], ply.lay_depth_mm);
        if (ply.kind != job::FabricKind::mat) planned.piece.shear_max = 0.0;
        const auto where = templates::directions(frame_, {1, 0, 0}, {0, 0, 1});
        templates::TemplateRequest request{planned.piece, fabric, 0.0, frame_, where, {}};
        if (k > 0) request.next_edge = {loop(flat_offset[i - 1])};
        planned.outline = make_template(request);
        ply.surface_area_mm2 = area(planned.outline.net);
        quantities::PlyAmounts amounts{ply.number, {}, planned.outline.area_mm2};
        const double laid = 0.5 * (ply.surface_area_mm2 + amounts.glass_area_mm2);
        amounts.glass_g = laid * 1e-6 * fabric.weight.value();
        amounts.resin_g = amounts.glass_g * (1 - fabric.glass_content) / fabric.glass_content;
        amounts.pieces = {{amounts.glass_g, amounts.resin_g}};
        plan_.quantities.plies.push_back(amounts);
        ply.pieces.push_back(std::move(planned));
        plan_.plies.push_back(std::move(ply));
    }

    void fill_rest(double widest) {
        const auto where = templates::directions(frame_, {1, 0, 0}, {0, 0, 1});
        const pieces::Piece footprint = piece("G", widest, 0.0);
        const double depth = plan_.job.damage.depth;
        const std::vector<templates::RingRequest> rings = {
            {{loop(0.0)}, depth, 0},
            {{loop(flat_offset[0])}, depth - flat_thickness[0], 1},
            {{loop(flat_offset[1])}, 0.0, -1},
            {{loop(flat_offset[2])}, 0.0, 3, true}};
        plan_.place.grind_guide = make_grind_guide(footprint, frame_, where, rings);
        for (const quantities::PlyAmounts& ply : plan_.quantities.plies) {
            plan_.quantities.totals.glass_area_m2 += ply.glass_area_mm2 * 1e-6;
            plan_.quantities.totals.glass_g += ply.glass_g;
            plan_.quantities.totals.resin_g += ply.resin_g * 1.1;
        }
        for (const double thickness : flat_thickness)
            plan_.quantities.totals.laid_thickness_mm += thickness;
        plan_.quantities.totals.hardener_g = plan_.quantities.totals.resin_g * 0.0125;
        plan_.quantities.totals.hardener_mL = *plan_.quantities.totals.hardener_g / 1.15;
        plan_.quantities.totals.topcoat_g = 14.0;
        plan_.quantities.totals.topcoat_hardener_g = 0.28;
        plan_.quantities.totals.ground_area_m2 = plan_.place.areas.scarf_mm2 * 1e-6;
        plan_.warnings.push_back(
            {.cause = warn::ShearNearLimit{"roving 600", 31.0, 40.0}, .ply = 2, .piece = "2A"});
        plan_.place.view.near = piece("view", 240.0, 0.0).lay;
        for (int i = 0; i <= 24; ++i) {
            for (int j = 0; j <= 10; ++j) {
                const Vec2 p(-1500.0 + 125.0 * i, -500.0 + 100.0 * j);
                plan_.place.view.far_vertices.push_back(base_point(p));
                if (i == 24 || j == 10) continue;
                const std::int32_t a = i * 11 + j;
                plan_.place.view.far_triangles.push_back({a, a + 11, a + 12});
                plan_.place.view.far_triangles.push_back({a, a + 12, a + 1});
            }
        }
    }

    FlatPlanOptions options_;
    damage::FlatFrame frame_;
    Plan plan_;
};

/// The plan of the flat panel.
inline Plan flat_plan(const FlatPlanOptions& options = {}) {
    return FlatPlanMaker(options).make();
}

}  // namespace tearline::test_support
