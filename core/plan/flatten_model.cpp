#include "core/plan/flatten_model.h"

#include <algorithm>
#include <utility>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/printable.h"
#include "core/base/sheet_words.h"
#include "core/base/tolerances.h"
#include "core/hull/part_of_hull.h"
#include "core/hull/read_hull.h"
#include "core/job/fabric_catalogue.h"
#include "core/job/nearest_name.h"
#include "core/job/sides.h"
#include "core/layout/nest_rolls.h"
#include "core/pieces/lay_down.h"
#include "core/plan/coarse_view.h"
#include "core/plan/cut_pieces.h"
#include "core/plan/flat_ground.h"
#include "core/plan/tolerances.h"
#include "core/plane/offset_region.h"
#include "core/plies/lay_surface.h"
#include "core/plies/mesh_region.h"
#include "core/plies/tightest_radius.h"
#include "core/templates/axis_words.h"
#include "core/templates/directions.h"
#include "core/templates/hull_end.h"
#include "core/templates/label_template.h"
#include "core/templates/line_names.h"
#include "core/templates/make_template.h"

namespace tearline {
namespace {

constexpr const char* any_sheet = "mat";

Result<job::Fabric> cloth_of(const FlatJob& asked) {
    job::Fabric cloth = job::fabric_of_kind(job::FabricKind::mat);
    if (asked.cloth == any_sheet) {
        cloth.name = any_sheet;
        cloth.roll_width = tolerance::largest_piece;
        cloth.least_radius = 0.0;
    } else {
        const auto known = job::built_in_fabrics();
        const auto found = known.find(asked.cloth);
        if (found == known.end()) {
            auto names = job::built_in_names();
            names.push_back(any_sheet);
            return bad_input("--cloth", "\"" + printable(asked.cloth) +
                                            "\": there is no such cloth; the "
                                            "nearest is \"" +
                                            job::nearest_name(asked.cloth, names) +
                                            "\", and \"mat\" stands for any sheet");
        }
        cloth = found->second;
    }
    const bool has_yarns = cloth.kind != job::FabricKind::mat;
    if (!has_yarns && (asked.axis != 0.0 || asked.axis_free != 0.0))
        return bad_input(asked.axis != 0.0 ? "--axis" : "--axis-free",
                         "goes with cloth, as --cloth \"biaxial 400\"; mat has no direction");
    if (asked.strain_limit) {
        if (has_yarns) return bad_input("--strain-limit", "goes with mat; cloth shears");
        cloth.strain_limit = *asked.strain_limit;
    }
    cloth.tear_margin = asked.margin;  // of mat: bands of its pieces that lap
    return cloth;
}

/// A refusal as the command line is told of it: what stands in a job file stands there.
Error on_command_line(Error error) {
    const std::string outline = "damage.outline";
    if (error.key.starts_with(outline))
        error.key = "--outline" + error.key.substr(outline.size());
    else if (!error.key.starts_with("--"))
        error.key.clear();
    return error;
}

/// Why cloth that lies right on a surface, and so folds nowhere, could not be meshed: the picture
/// of it in the plane is squeezed there.
Error of_surface(Error error, bool has_faces) {
    if (error.kind == ErrorKind::no_safe_answer && error.place)
        error.what = "the surface curves too much near " + place_text(*error.place) +
                     " mm to be laid out in one piece: " + plan::other_piece(has_faces);
    return error;
}

job::HullOptions options_of(const FlatJob& asked) {
    job::HullOptions options;
    options.model = asked.model;
    options.unit = asked.unit;
    options.outward = asked.outward;
    return options;
}

/// The job that stands behind every output: what it is of, how it lies, what it is cut from.
job::Job job_of(const FlatJob& asked, const job::Fabric& cloth) {
    job::Job job;
    job.title = asked.title;
    job.file = asked.model.stem();
    job.display_units = asked.units;
    job.hull.model = asked.model;
    job.hull.model_as_given = asked.model.filename().string();
    job.hull.unit = asked.unit;
    job.hull.bow = asked.bow;
    job.hull.up = asked.up;
    job.hull.surface = job.damage.side = asked.side;
    job.fabrics = {{cloth.name, cloth}};
    job.layup.stack = {{cloth.name, asked.axis, asked.axis_free}};
    job.effective_json = std::string("{\"display_units\": \"") +
                         (asked.units == job::Units::us ? "us" : "metric") + "\"}";
    return job;
}

pieces::PlyShape shape_of(const plan::FlatGround& ground, const FlatJob& asked,
                          const job::Fabric& cloth) {
    pieces::PlyShape shape;
    shape.patch = &ground.patch;
    shape.region = ground.region;
    shape.depth = [](const Vec2&) { return 0.0; };
    shape.middle = ground.frame.chart;
    shape.middle_whole = false;  // no damage is there
    shape.y = ground.frame.y;
    shape.axis_from = ground.frame.axis_from;
    shape.normal = ground.frame.normal;
    shape.fabric = cloth;
    shape.entry = {cloth.name, asked.axis, asked.axis_free};
    shape.smaller = "a smaller piece (--outline)";
    return shape;
}

Region2 with_margin(const Region2& inner, double margin) {
    if (!(margin > 0.0)) return inner;
    auto wide = plane::offset_region(inner, margin);
    const auto largest = std::max_element(
        wide.begin(), wide.end(), [](const auto& a, const auto& b) { return area(a) < area(b); });
    return largest == wide.end() ? inner : std::move(*largest);
}

/// Which face one looks at; of a model too flat to tell, that which its file has towards one.
std::string seen_words(const FlatJob& asked, bool outside_known) {
    if (!outside_known)
        return asked.side == job::Side::inside ? "SEEN AS MODELLED, FROM BEHIND"
                                               : "SEEN AS MODELLED";
    return "SEEN " + in_capitals(std::string("from ") + job::side_word(asked.side));
}

/// What stands on a template that belongs to no ply.
templates::Words words_of(const templates::LaidPly& ply, const templates::LaidPiece& piece,
                          const FlatJob& asked, const templates::Directions& where,
                          bool outside_known) {
    const bool metric = asked.units == job::Units::metric;
    constexpr double mm2_per_m2 = 1e6, mm2_per_square_foot = 92903.04;
    templates::Words words;
    words.lines = {{in_capitals(piece.piece.id), 2.2},
                   {asked.cloth == any_sheet ? "sheet that gives like mat" : ply.fabric, 1.3},
                   {face_words, 1.3},
                   {seen_words(asked, outside_known), 1.3}};
    if (!outside_known) words.lines.push_back({"HOLD IT UP FIRST: MAY BE MIRRORED", 1.3});
    const double area_mm2 = piece.outline.area_mm2;
    words.lines.push_back({metric ? fixed(area_mm2 / mm2_per_m2, 3) + " m²"
                                  : fixed(area_mm2 / mm2_per_square_foot, 2) + " ft²",
                           1.0});
    if (asked.margin > 0.0)
        words.lines.push_back({"MARGIN " + in_capitals(length_text(asked.margin, 0, asked.units)) +
                                   " INCLUDED: CUT AT THE OUTER LINE",
                               1.0});
    const std::string title = asked.title.empty() ? asked.model.stem().string() : asked.title;
    for (const std::string& line : name_lines(title)) words.lines.push_back({line, 1.0});
    if (ply.kind != job::FabricKind::mat) {
        constexpr std::size_t letters = 34;
        const std::string axis =
            in_capitals(templates::axis_words(where, ply.kind, piece.outline.axis_degrees));
        for (const std::string& line : broken(axis, letters)) words.lines.push_back({line, 0.8});
        if (piece.piece.shear_max)
            words.lines.push_back(
                {"SHEARS BY UP TO " + fixed(*piece.piece.shear_max, 1) + " DEGREES", 0.8});
    } else {
        words.lines.push_back(
            {"GIVES BY UP TO " + fixed(100.0 * piece.piece.strain_max, 1) + " %", 0.8});
    }
    return words;
}

/// Lays one surface flat and draws its templates.
class Flattener {
public:
    Flattener(const plan::FlatGround& ground, const FlatJob& asked, const job::Fabric& cloth,
              bool outside_known)
        : ground_(ground),
          asked_(asked),
          cloth_(cloth),
          outside_known_(outside_known),
          directions_(templates::directions(ground.frame, asked.bow, asked.up)) {}

    Result<templates::LaidPly> laid(Warnings& warnings) {
        templates::LaidPly ply;
        ply.fabric = cloth_.name;
        ply.kind = cloth_.kind;
        ply.side = asked_.side;
        const auto mesh = plies::mesh_region(ground_.patch, ground_.region);
        if (!mesh) return tl::unexpected(mesh.error());
        const auto flat = [](const Vec2&) { return 0.0; };
        const auto lay = plies::lay_surface(ground_.patch, *mesh, flat, ground_.frame.chart);
        if (!lay) return tl::unexpected(of_surface(lay.error(), ground_.has_faces));
        const plies::TightestRadii radii = plies::tightest_radii(*mesh, flat);
        if (radii.convex) ply.convex_radius_mm = radii.convex->radius;
        if (radii.concave) ply.concave_radius_mm = radii.concave->radius;
        ply.surface_area_mm2 = lay->area;
        ply.outlines_3d = {on_base()};
        const auto shape = shape_of(ground_, asked_, cloth_);
        auto down = pieces::lay_down(shape, *lay, {}, {});
        if (!down) return tl::unexpected(down.error());
        warnings.insert(warnings.end(), lay->warnings.begin(), lay->warnings.end());
        for (Warning& warning : down->warnings) {
            if (auto* pieces = std::get_if<warn::LaidInPieces>(&warning.cause))
                pieces->torn = false;  // at the line that is drawn
            warnings.push_back(std::move(warning));
        }
        const bool several = down->pieces.size() > 1;
        for (std::size_t i = 0; i < down->pieces.size(); ++i) {
            pieces::Piece& piece = down->pieces[i];
            const std::string was = piece.id;
            piece.id = several ? "flat-" + std::to_string(i + 1) : "flat";
            for (Warning& warning : warnings)
                if (warning.piece == was) warning.piece = piece.id;
            ply.pieces.push_back(templated(std::move(piece)));
        }
        for (templates::LaidPiece& piece : ply.pieces) {
            templates::name_lines(piece.outline);
            templates::label_template(piece.outline,
                                      words_of(ply, piece, asked_, directions_, outside_known_));
        }
        return ply;
    }

private:
    [[nodiscard]] Region3 on_base() const {
        Region3 out;
        const auto carried = [&](const Loop2& loop) {
            Loop3 on;
            for (const Vec2& p : loop) on.push_back(plan::place_over(ground_.patch, p));
            return on;
        };
        out.outer = carried(ground_.region.outer);
        for (const Loop2& hole : ground_.region.holes) out.holes.push_back(carried(hole));
        return out;
    }

    /// To cut, with the margin round it.
    [[nodiscard]] templates::LaidPiece templated(pieces::Piece piece) const {
        templates::LaidPiece laid;
        laid.piece = std::move(piece);
        laid.outline = templates::make_template(
            {laid.piece, cloth_, asked_.axis, ground_.frame, directions_, {}, false});
        templates::Template& outline = laid.outline;
        outline.cut = outline.tear ? std::move(*outline.tear)
                                   : with_margin(outline.cut.value_or(outline.net), asked_.margin);
        outline.tear.reset();
        outline.area_mm2 = area(*outline.cut);
        for (templates::Mark& mark : outline.marks)
            if (auto* datum = std::get_if<templates::Datum>(&mark)) datum->text = "MIDDLE";
        // An outline that runs off the model is cut there, and says so.
        if (ground_.edge.cut_at_hull_end)
            templates::add_hull_ends(laid.piece, ground_.patch, outline.marks);
        return laid;
    }

    const plan::FlatGround& ground_;
    const FlatJob& asked_;
    const job::Fabric& cloth_;
    bool outside_known_;
    templates::Directions directions_;
};

Result<Plan> flattened(const FlatJob& asked, const hull::Hull& whole) {
    const auto cloth = cloth_of(asked);
    if (!cloth) return tl::unexpected(cloth.error());
    Result<hull::Hull> hull = whole;
    if (asked.face) hull = hull::face_alone(whole, *asked.face);
    if (!hull) return tl::unexpected(hull.error());
    const auto ground = plan::flat_ground(*hull, asked);
    if (!ground) return tl::unexpected(ground.error());

    Plan plan;
    plan.job = job_of(asked, *cloth);
    plan.model_sha256 = whole.sha256;
    plan.warnings = whole.warnings;
    if (!whole.report.outside_known) plan.warnings.push_back({warn::OutsideUnknown{}});
    plan.warnings.insert(plan.warnings.end(), ground->edge.warnings.begin(),
                         ground->edge.warnings.end());
    auto ply = Flattener(*ground, asked, *cloth, whole.report.outside_known).laid(plan.warnings);
    if (!ply) return tl::unexpected(ply.error());
    plan.place.frame = ground->frame;
    plan.place.footprint = ply->outlines_3d;
    plan.place.view = plan::coarse_view(whole);
    plan.place.view.near = ground->patch.mesh;
    plan::FlatAsked& flat = plan.flat.emplace();
    flat.cloth = asked.cloth;
    flat.face = asked.face;
    flat.points = asked.outline;
    flat.margin_mm = asked.margin;
    flat.perimeter_mm = perimeter(ply->outlines_3d.front().outer);
    flat.orientation = whole.report.orientation;
    plan.plies.push_back(std::move(*ply));
    if (asked.cloth != any_sheet) {
        auto nested = layout::nest_rolls(plan::cut_pieces(plan.plies), plan.job);
        plan.rolls = std::move(nested.rolls);
        plan.warnings.insert(plan.warnings.end(), nested.warnings.begin(), nested.warnings.end());
    }
    return plan;
}

}  // namespace

Result<hull::Hull> model_to_flatten(const FlatJob& asked) {
    // What the command line says wrong is told before a file is opened.
    if (const auto cloth = cloth_of(asked); !cloth) return tl::unexpected(cloth.error());
    auto model = hull::inspect_hull(options_of(asked), hull::UnitFrom::command_line, asked.side);
    if (!model) return tl::unexpected(on_command_line(model.error()));
    return model;
}

Result<Plan> flatten_model(const FlatJob& asked, const hull::Hull& model) {
    auto plan = flattened(asked, model);
    if (!plan) return tl::unexpected(on_command_line(plan.error()));
    return plan;
}

}  // namespace tearline
