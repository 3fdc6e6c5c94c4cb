#include "core/hull/cad_faces.h"

#include <tbb/enumerable_thread_specific.h>

#include <BRepAdaptor_Surface.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <GeomAdaptor_Curve.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <Geom_Curve.hxx>
#include <Geom_Surface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <algorithm>
#include <array>
#include <stdexcept>

namespace tearline::hull {
namespace {

Vec3 vec(const gp_XYZ& p) {
    return {p.X(), p.Y(), p.Z()};
}

/// A face with the curves of its edges in its own parameters.
struct OneFace {
    Handle(Geom_Surface) surface;
    double outward = 1.0;
    struct EdgeCurve {
        std::int32_t edge;
        std::array<Handle(Geom2d_Curve), 2> curve;  ///< the second along a seam only
    };
    std::vector<EdgeCurve> curves;  ///< by ascending edge
};

/// What walks on faces and edges keeps the span it was on last: each thread has its own, of what it
/// asks for. Surfaces and curves themselves do not change and are shared.
class Walker {
public:
    const GeomAdaptor_Surface& face(const std::vector<OneFace>& faces, FaceId id) {
        if (faces_.empty()) faces_.resize(faces.size());
        GeomAdaptor_Surface& on = faces_[id.index()];
        if (on.Surface().IsNull()) on.Load(faces[id.index()].surface);
        return on;
    }

    const GeomAdaptor_Curve& edge(const std::vector<Handle(Geom_Curve)>& edges, EdgeId id) {
        if (edges_.empty()) edges_.resize(edges.size());
        GeomAdaptor_Curve& on = edges_[id.index()];
        if (on.Curve().IsNull()) on.Load(edges[id.index()]);
        return on;
    }

private:
    std::vector<GeomAdaptor_Surface> faces_;
    std::vector<GeomAdaptor_Curve> edges_;
};

class OcctFaces final : public CadFaces {
public:
    explicit OcctFaces(const TopoDS_Shape& shape) {
        TopTools_IndexedMapOfShape faces, edges;
        TopExp::MapShapes(shape, TopAbs_FACE, faces);
        TopExp::MapShapes(shape, TopAbs_EDGE, edges);
        for (int i = 1; i <= edges.Extent(); ++i) {
            double first = 0.0, last = 0.0;
            const Handle(Geom_Curve) curve = BRep_Tool::Curve(TopoDS::Edge(edges(i)), first, last);
            edges_.push_back(curve);
        }
        face_of_edge_.assign(edges_.size(), FaceId());
        for (int i = 1; i <= faces.Extent(); ++i) {
            faces_.push_back(face_from(TopoDS::Face(faces(i)), edges));
            for (const auto& c : faces_.back().curves) {
                face_of_edge_[static_cast<std::size_t>(c.edge)] = FaceId(i - 1);
            }
        }
    }

    FacePoint evaluate(FaceId face, const Vec2& uv) const override {
        gp_Pnt p;
        gp_Vec du, dv, duu, dvv, duv;
        walker().face(faces_, face).D2(uv.x(), uv.y(), p, du, dv, duu, dvv, duv);
        return {vec(p.XYZ()),   vec(du.XYZ()),  vec(dv.XYZ()),
                vec(duu.XYZ()), vec(duv.XYZ()), vec(dvv.XYZ())};
    }

    double outward_sign(FaceId face) const override { return faces_[face.index()].outward; }

    Vec3 edge_point(EdgeId edge, double parameter) const override {
        if (!edges_[edge.index()].IsNull())
            return vec(walker().edge(edges_, edge).Value(parameter).XYZ());
        const FaceId face = face_of_edge_[edge.index()];
        return evaluate(face, edge_uv(edge, face, parameter)).position;
    }

    Vec2 edge_uv(EdgeId edge, FaceId face, double parameter) const override {
        return at(*curves(edge, face).curve[0], parameter);
    }

    Vec2 edge_uv(EdgeId edge, FaceId face, double parameter, const Vec2& near) const override {
        const auto& both = curves(edge, face).curve;
        const Vec2 first = at(*both[0], parameter);
        if (both[1].IsNull()) return first;
        const Vec2 second = at(*both[1], parameter);
        return (first - near).squaredNorm() <= (second - near).squaredNorm() ? first : second;
    }

private:
    static Vec2 at(const Geom2d_Curve& curve, double parameter) {
        const gp_Pnt2d p = curve.Value(parameter);
        return {p.X(), p.Y()};
    }

    const OneFace::EdgeCurve& curves(EdgeId edge, FaceId face) const {
        const auto& all = faces_[face.index()].curves;
        const auto found = std::lower_bound(
            all.begin(), all.end(), edge.value,
            [](const OneFace::EdgeCurve& c, std::int32_t e) { return c.edge < e; });
        if (found == all.end() || found->edge != edge.value) {
            throw std::logic_error("edge_uv: the edge does not bound the face");
        }
        return *found;
    }

    static OneFace face_from(const TopoDS_Face& face, const TopTools_IndexedMapOfShape& edges) {
        OneFace result;
        result.surface = BRep_Tool::Surface(face);  // with the face's location applied
        result.outward = face.Orientation() == TopAbs_REVERSED ? -1.0 : 1.0;
        const TopoDS_Face forward = TopoDS::Face(face.Oriented(TopAbs_FORWARD));
        for (TopExp_Explorer e(forward, TopAbs_EDGE); e.More(); e.Next()) {
            const TopoDS_Edge edge = TopoDS::Edge(e.Current());
            double first = 0.0, last = 0.0;
            const Handle(Geom2d_Curve) curve =
                BRep_Tool::CurveOnSurface(edge, forward, first, last);
            if (curve.IsNull()) continue;
            const std::int32_t id = edges.FindIndex(edge) - 1;
            const auto known =
                std::find_if(result.curves.begin(), result.curves.end(),
                             [&](const OneFace::EdgeCurve& c) { return c.edge == id; });
            if (known == result.curves.end()) {
                result.curves.push_back({id, {curve, nullptr}});
            } else {
                known->curve[1] = curve;
            }
        }
        std::sort(result.curves.begin(), result.curves.end(),
                  [](const auto& a, const auto& b) { return a.edge < b.edge; });
        return result;
    }

    /// This thread's.
    Walker& walker() const { return walkers_.local(); }

    std::vector<OneFace> faces_;
    std::vector<Handle(Geom_Curve)> edges_;  ///< null where there is none
    std::vector<FaceId> face_of_edge_;
    mutable tbb::enumerable_thread_specific<Walker> walkers_;
};

class Placed final : public CadFaces {
public:
    explicit Placed(PlacedFaces faces) : is_(std::move(faces)) {}

    FacePoint evaluate(FaceId face, const Vec2& uv) const override {
        FacePoint p = is_.inner->evaluate(inner(face), uv);
        if (mirrored(face.value, is_.faces)) {
            p.position = reflected(*is_.mirror, p.position);
            for (Vec3* d : {&p.du, &p.dv, &p.duu, &p.duv, &p.dvv}) {
                *d = reflected_direction(*is_.mirror, *d);
            }
        }
        return p;
    }
    double outward_sign(FaceId face) const override {
        const double sign = is_.outward[inner(face).index()];
        return mirrored(face.value, is_.faces) ? -sign : sign;  // a reflection turns du x dv over
    }
    Vec3 edge_point(EdgeId edge, double parameter) const override {
        const Vec3 p = is_.inner->edge_point(inner(edge), parameter);
        return mirrored(edge.value, is_.edges) ? reflected(*is_.mirror, p) : p;
    }
    Vec2 edge_uv(EdgeId edge, FaceId face, double parameter) const override {
        return is_.inner->edge_uv(inner(edge), inner(face), parameter);
    }
    Vec2 edge_uv(EdgeId edge, FaceId face, double parameter, const Vec2& near) const override {
        return is_.inner->edge_uv(inner(edge), inner(face), parameter, near);
    }

private:
    bool mirrored(std::int32_t id, std::int32_t count) const { return is_.mirror && id >= count; }
    FaceId inner(FaceId face) const {
        return mirrored(face.value, is_.faces) ? FaceId(face.value - is_.faces) : face;
    }
    EdgeId inner(EdgeId edge) const {
        return mirrored(edge.value, is_.edges) ? EdgeId(edge.value - is_.edges) : edge;
    }
    PlacedFaces is_;
};

}  // namespace

Vec3 reflected(const MirrorPlane& plane, const Vec3& point) {
    return point - 2.0 * (plane.normal.dot(point) - plane.offset) * plane.normal;
}

Vec3 reflected_direction(const MirrorPlane& plane, const Vec3& direction) {
    return direction - 2.0 * plane.normal.dot(direction) * plane.normal;
}

std::shared_ptr<const CadFaces> faces_of(const TopoDS_Shape& shape) {
    return std::make_shared<OcctFaces>(shape);
}

std::shared_ptr<const CadFaces> placed(PlacedFaces faces) {
    return std::make_shared<Placed>(std::move(faces));
}

}  // namespace tearline::hull
