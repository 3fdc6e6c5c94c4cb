#include "core/hull/corner_hull.h"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <GC_MakeArcOfCircle.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <TColStd_Array1OfInteger.hxx>
#include <TColStd_Array1OfReal.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Shape.hxx>
#include <TopoDS_Wire.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax1.hxx>
#include <gp_Trsf.hxx>
#include <memory>
#include <stdexcept>

#include "core/base/numbers.h"
#include "core/base/tolerances.h"
#include "core/hull/batten_patch.h"
#include "core/hull/cad_faces.h"
#include "core/hull/cad_mesh.h"
#include "core/hull/corner_shape.h"
#include "core/hull/plane_axes.h"
#include "core/hull/spline_knots.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

gp_Pnt point(const Vec3& p) {
    return {p.x(), p.y(), p.z()};
}

gp_Vec vector(const Vec3& v) {
    return {v.x(), v.y(), v.z()};
}

CornerFrame frame_of(const job::HullOptions& options) {
    const PlaneAxes axes(options);
    const Vec3 out(0, 0, 1);
    return options.corner->upright ? CornerFrame{axes.across, axes.along, out}
                                   : CornerFrame{axes.along, axes.across, out};
}

TopoDS_Edge edge_of(const SectionArc& arc, const CornerShape& shape) {
    const auto at = [&](double share) {
        return point(shape.place(arc.at(arc.from + share * (arc.to - arc.from)).at));
    };
    if (std::abs(arc.curvature) * (arc.to - arc.from) < tolerance::straight_turn)
        return BRepBuilderAPI_MakeEdge(at(0.0), at(1.0)).Edge();
    const Handle(Geom_TrimmedCurve) circle = GC_MakeArcOfCircle(at(0.0), at(0.5), at(1.0)).Value();
    return BRepBuilderAPI_MakeEdge(circle).Edge();
}

TopoDS_Edge edge_of(const GaugedCurve& curve, const CornerShape& shape) {
    const SplineBasis& basis = curve.basis();
    const Eigen::Map<const Eigen::VectorXd> sites(basis.sites().data(), basis.size());
    // The poles of the curve across itself.
    const Eigen::VectorXd across = basis.collocation().inverse() * sites;
    const double zero = basis.at(0.0).dot(curve.table().poles.row(0));
    TColgp_Array1OfPnt poles(1, static_cast<int>(basis.size()));
    for (Eigen::Index i = 0; i < basis.size(); ++i)
        poles.SetValue(static_cast<int>(i) + 1,
                       point(shape.place({across[i], curve.table().poles(0, i) - zero})));
    const SplineKnots knots(basis.knots());
    const Handle(Geom_BSplineCurve) spline =
        new Geom_BSplineCurve(poles, array_of<TColStd_Array1OfReal>(knots.value),
                              array_of<TColStd_Array1OfInteger>(knots.times), basis.degree());
    return BRepBuilderAPI_MakeEdge(spline).Edge();
}

TopoDS_Wire section_wire(const CornerShape& shape) {
    BRepBuilderAPI_MakeWire wire;
    const CornerSection& section = shape.section();
    bool gauged = !section.gauged();
    for (const SectionArc& arc : section.arcs()) {
        if (!gauged && arc.from >= section.bend_to()) {
            wire.Add(edge_of(*section.gauged(), shape));
            gauged = true;
        }
        wire.Add(edge_of(arc, shape));
    }
    if (!gauged) wire.Add(edge_of(*section.gauged(), shape));
    if (!wire.IsDone())
        throw std::logic_error("hull_of_corner: its section does not hang together");
    return wire.Wire();
}

/// Its faces: planes and a cylinder, or what they become when the line bends.
TopoDS_Shape faces_along(const CornerShape& shape) {
    TopoDS_Wire wire = section_wire(shape);
    const Vec3& line = shape.frame().line;
    const double bend = shape.bend().norm();
    gp_Trsf to_start;
    if (!(bend > 0.0)) {
        to_start.SetTranslation(vector(-shape.half_length() * line));
        wire.Move(to_start);
        return BRepPrimAPI_MakePrism(wire, vector(2.0 * shape.half_length() * line)).Shape();
    }
    const Vec3 away = shape.place(shape.bend() / bend);
    const gp_Ax1 axis(point(-away / bend), gp_Dir(vector(away.cross(line))));
    to_start.SetRotation(axis, -shape.half_length() * bend);
    wire.Move(to_start);
    return BRepPrimAPI_MakeRevol(wire, axis, 2.0 * shape.half_length() * bend).Shape();
}

/// Whether its triangles look to the person, by the one nearest to the middle.
bool faces_person(const Hull& hull, const CornerShape& shape) {
    double nearest = 0.0, looks = 0.0;
    for (const auto& t : hull.triangles) {
        const auto at = [&](std::size_t k) {
            return hull.vertices[static_cast<std::size_t>(t[k])];
        };
        const double away = ((at(0) + at(1) + at(2)) / 3.0).squaredNorm();
        if (looks != 0.0 && away >= nearest) continue;
        nearest = away;
        looks = (at(1) - at(0)).cross(at(2) - at(0)).dot(shape.frame().out);
    }
    return looks > 0.0;
}

Hull meshed(const CornerShape& shape, bool outside) {
    TopoDS_Shape faces = faces_along(shape);
    Hull hull = mesh_cad(faces);
    if (hull.triangles.empty()) throw std::logic_error("hull_of_corner: its faces are not meshed");
    if (faces_person(hull, shape) != outside) {
        faces.Reverse();
        hull = mesh_cad(faces);
    }
    hull.cad = faces_of(faces);
    hull.report.faces =
        static_cast<int>(shape.section().arcs().size() + (shape.section().gauged() ? 1 : 0));
    hull.report.unit = "mm";
    return hull;
}

/// Points of a profile that the others contradict: refused when far off, else told.
Result<void> judge(const FairTable& table, const job::Corner& corner, Warnings& warnings) {
    for (const Suspicion& s : table.suspicious) {
        const auto i = static_cast<std::size_t>(s.column);
        const std::string key = "hull.corner.profile[" + std::to_string(i + 1) + "]";
        const warn::SuspiciousFigure told{key, "across " + shortest(corner.profile[i][0]) + " mm",
                                          s.figure, s.expected};
        if (std::abs(s.figure - s.expected) > tolerance::contradicting_figure)
            return at_line(i < corner.lines.size() ? corner.lines[i] : 0, key, told.refusal());
        warnings.push_back({told});
    }
    return {};
}

/// What was measured, and what the surface has there.
std::vector<MeasuredFigure> figures_of(const job::Corner& corner, const CornerShape& shape) {
    std::vector<MeasuredFigure> all;
    const CornerSection& section = shape.section();
    if (corner.radius)
        all.push_back({"hull.corner.radius", *corner.radius, *corner.radius, shape.at(0.0, 0.0)});
    if (const auto& curve = section.gauged()) {
        const double zero = curve->table().fitted(0, 0) - curve->height(corner.profile[0][0]);
        for (std::size_t i = 0; i < corner.profile.size(); ++i) {
            const double across = corner.profile[i][0], height = curve->height(across);
            all.push_back({"hull.corner.profile[" + std::to_string(i + 1) + "]",
                           corner.profile[i][1], height + zero, shape.place({across, height})});
        }
    }
    for (std::size_t i = 0; i < 2; ++i) {
        const double round = i == 0 ? section.bend_from() : section.bend_to();
        const std::string place = "[" + std::to_string(i + 1) + "]";
        if (corner.gaps_along)
            all.push_back({"hull.corner.gaps_along" + place, (*corner.gaps_along)[i],
                           gap_of_curvature(shape.bends_along()[i], 0.5 * corner.batten.value()),
                           shape.at(0.0, round)});
        if (corner.gaps_across)
            all.push_back({"hull.corner.gaps_across" + place, (*corner.gaps_across)[i],
                           (*corner.gaps_across)[i], shape.at(0.0, round)});
    }
    return all;
}

}  // namespace

Result<Hull> hull_of_corner(const job::HullOptions& options) {
    const job::Corner& corner = *options.corner;
    const auto shape = CornerShape::make(corner, frame_of(options));
    if (!shape) return tl::unexpected(shape.error());
    Warnings warnings;
    if (const auto& curve = shape->section().gauged())
        if (auto judged = judge(curve->table(), corner, warnings); !judged)
            return tl::unexpected(judged.error());
    Hull hull = meshed(*shape, person_outside(options) > 0.0);
    hull.warnings = std::move(warnings);
    HandMeasured& by_hand = hull.by_hand.emplace();
    by_hand.along = shape->frame().line;
    by_hand.across = shape->frame().across;
    by_hand.figures = figures_of(corner, *shape);
    by_hand.corner = std::make_shared<const CornerShape>(*shape);
    hull.report.format =
        corner.profile.empty() ? "a corner by its radius" : "a corner by its section";
    return hull;
}

std::string corner_text(const job::Corner& corner) {
    std::string text;
    const auto add = [&](double figure) { text += " " + shortest(figure); };
    const auto both = [&](const std::optional<std::array<double, 2>>& pair) {
        text += ";";
        if (!pair) return;
        add((*pair)[0]);
        add((*pair)[1]);
    };
    add(corner.length);
    text += corner.upright ? " upright" : " level";
    if (corner.convex) text += *corner.convex ? " convex" : " hollow";
    for (const auto& figure : {corner.radius, corner.angle, corner.batten, corner.batten_across})
        add(figure.value_or(0.0));
    for (const auto& pair : {corner.flats, corner.gaps_along, corner.gaps_across}) both(pair);
    for (const auto& p : corner.profile) both(std::array<double, 2>{p[0], p[1]});
    return text;
}

}  // namespace tearline::hull
