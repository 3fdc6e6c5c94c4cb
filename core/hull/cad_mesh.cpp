#include "core/hull/cad_mesh.h"

#include <BRepBndLib.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Bnd_Box.hxx>
#include <Poly_PolygonOnTriangulation.hxx>
#include <Poly_Triangulation.hxx>
#include <Standard_Failure.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <TopoDS_Vertex.hxx>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/base/tolerances.h"
#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

/// Which nodes are one vertex: a forest in which each tree's root stands for all of it.
class Unions {
public:
    explicit Unions(std::size_t count) : parent_(count) {
        std::iota(parent_.begin(), parent_.end(), 0);
    }
    std::int32_t root(std::int32_t i) {
        auto& p = parent_;
        while (p[static_cast<std::size_t>(i)] != i) {
            p[static_cast<std::size_t>(i)] =
                p[static_cast<std::size_t>(p[static_cast<std::size_t>(i)])];
            i = p[static_cast<std::size_t>(i)];
        }
        return i;
    }
    void join(std::int32_t a, std::int32_t b) {
        a = root(a);
        b = root(b);
        // The smaller number stays: the same model gives the same vertices.
        parent_[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
    }

private:
    std::vector<std::int32_t> parent_;
};

struct MeshedFace {
    TopoDS_Face face;
    TopLoc_Location location;
    Handle(Poly_Triangulation) triangulation;
    std::int32_t first_node = 0;  ///< its node 1 among all faces' nodes
};

/// A chain of nodes along an edge, as one face has it.
struct EdgeChain {
    std::int32_t edge = -1;
    bool degenerate = false;
    std::vector<std::int32_t> nodes;
    std::vector<double> parameters;
};

class CadMesher {
public:
    explicit CadMesher(const TopoDS_Shape& shape) {
        TopExp::MapShapes(shape, TopAbs_FACE, faces_);
        TopExp::MapShapes(shape, TopAbs_EDGE, edges_);
        TopExp::MapShapes(shape, TopAbs_VERTEX, corners_);
    }

    Hull hull() {
        collect();
        Unions unions(static_cast<std::size_t>(nodes_ + corners_.Extent()));
        join_along_edges(unions);
        number_vertices(unions);
        fill_triangles();
        fill_edges();
        hull_.cad_edge_count = edges_.Extent();
        return std::move(hull_);
    }

private:
    void collect() {
        for (int i = 1; i <= faces_.Extent(); ++i) {
            MeshedFace one{TopoDS::Face(faces_(i)), {}, nullptr, nodes_};
            one.triangulation = BRep_Tool::Triangulation(one.face, one.location);
            if (!one.triangulation.IsNull()) nodes_ += one.triangulation->NbNodes();
            meshed_.push_back(one);
        }
    }

    std::vector<EdgeChain> chains_of(const MeshedFace& one) const {
        std::vector<EdgeChain> result;
        const TopoDS_Face forward = TopoDS::Face(one.face.Oriented(TopAbs_FORWARD));
        for (TopExp_Explorer e(forward, TopAbs_EDGE); e.More(); e.Next()) {
            const TopoDS_Edge edge = TopoDS::Edge(e.Current());
            const Handle(Poly_PolygonOnTriangulation) polygon =
                BRep_Tool::PolygonOnTriangulation(edge, one.triangulation, one.location);
            if (polygon.IsNull()) continue;
            EdgeChain chain;
            chain.edge = edges_.FindIndex(edge) - 1;
            chain.degenerate = BRep_Tool::Degenerated(edge);
            for (int k = 1; k <= polygon->NbNodes(); ++k) {
                chain.nodes.push_back(one.first_node + polygon->Node(k) - 1);
                chain.parameters.push_back(polygon->HasParameters() ? polygon->Parameter(k) : k);
            }
            result.push_back(std::move(chain));
        }
        return result;
    }

    std::int32_t corner(const TopoDS_Vertex& vertex) const {
        return nodes_ + corners_.FindIndex(vertex) - 1;
    }

    void join_along_edges(Unions& unions) {
        std::vector<std::vector<std::int32_t>> along(static_cast<std::size_t>(edges_.Extent()));
        for (const MeshedFace& one : meshed_) {
            if (one.triangulation.IsNull()) continue;
            for (const EdgeChain& chain : chains_of(one)) {
                const TopoDS_Edge edge = TopoDS::Edge(edges_(chain.edge + 1));
                const TopoDS_Vertex first = TopExp::FirstVertex(edge);
                const TopoDS_Vertex last = TopExp::LastVertex(edge);
                if (!first.IsNull()) unions.join(chain.nodes.front(), corner(first));
                if (!last.IsNull()) unions.join(chain.nodes.back(), corner(last));
                if (chain.degenerate) {
                    for (const std::int32_t n : chain.nodes) unions.join(n, chain.nodes.front());
                }
                auto& known = along[static_cast<std::size_t>(chain.edge)];
                if (known.empty()) known = chain.nodes;
                if (known.size() != chain.nodes.size()) continue;
                for (std::size_t k = 0; k < known.size(); ++k)
                    unions.join(known[k], chain.nodes[k]);
            }
        }
    }

    void number_vertices(Unions& unions) {
        vertex_.assign(static_cast<std::size_t>(nodes_), -1);
        std::vector<std::int32_t> of_root(static_cast<std::size_t>(nodes_ + corners_.Extent()), -1);
        for (const MeshedFace& one : meshed_) {
            if (one.triangulation.IsNull()) continue;
            const gp_Trsf place = one.location.Transformation();
            for (int k = 1; k <= one.triangulation->NbNodes(); ++k) {
                const std::int32_t node = one.first_node + k - 1;
                auto& number = of_root[static_cast<std::size_t>(unions.root(node))];
                if (number < 0) {
                    number = static_cast<std::int32_t>(hull_.vertices.size());
                    const gp_Pnt p = one.triangulation->Node(k).Transformed(place);
                    hull_.vertices.emplace_back(p.X(), p.Y(), p.Z());
                }
                vertex_[static_cast<std::size_t>(node)] = number;
            }
        }
    }

    void fill_triangles() {
        for (std::size_t f = 0; f < meshed_.size(); ++f) {
            const MeshedFace& one = meshed_[f];
            if (one.triangulation.IsNull()) continue;
            const bool reversed = one.face.Orientation() == TopAbs_REVERSED;
            for (int t = 1; t <= one.triangulation->NbTriangles(); ++t) {
                std::array<int, 3> n{};
                one.triangulation->Triangle(t).Get(n[0], n[1], n[2]);
                if (reversed) std::swap(n[1], n[2]);
                std::array<std::int32_t, 3> v{};
                std::array<Vec2, 3> uv;
                for (std::size_t k = 0; k < 3; ++k) {
                    v[k] = vertex_[static_cast<std::size_t>(one.first_node + n[k] - 1)];
                    const gp_Pnt2d p = one.triangulation->UVNode(n[k]);
                    uv[k] = Vec2(p.X(), p.Y());
                }
                if (v[0] == v[1] || v[1] == v[2] || v[2] == v[0]) continue;  // at a pole
                hull_.triangles.push_back(v);
                hull_.face.emplace_back(f);
                hull_.corner_uv.push_back(uv);
            }
        }
    }

    void fill_edges() {
        std::vector<bool> done(static_cast<std::size_t>(edges_.Extent()), false);
        for (const MeshedFace& one : meshed_) {
            if (one.triangulation.IsNull()) continue;
            for (const EdgeChain& chain : chains_of(one)) {
                if (chain.degenerate || done[static_cast<std::size_t>(chain.edge)]) continue;
                done[static_cast<std::size_t>(chain.edge)] = true;
                for (std::size_t k = 0; k + 1 < chain.nodes.size(); ++k) {
                    EdgeOnCad e{vertex_[static_cast<std::size_t>(chain.nodes[k])],
                                vertex_[static_cast<std::size_t>(chain.nodes[k + 1])],
                                EdgeId(chain.edge), chain.parameters[k], chain.parameters[k + 1]};
                    if (e.from == e.to) continue;
                    if (e.from > e.to) {
                        std::swap(e.from, e.to);
                        std::swap(e.parameter_from, e.parameter_to);
                    }
                    hull_.cad_edges.push_back(e);
                }
            }
        }
        std::sort(hull_.cad_edges.begin(), hull_.cad_edges.end(),
                  [](const EdgeOnCad& a, const EdgeOnCad& b) {
                      return std::pair(a.from, a.to) < std::pair(b.from, b.to);
                  });
    }

    TopTools_IndexedMapOfShape faces_, edges_, corners_;
    std::vector<MeshedFace> meshed_;
    std::vector<std::int32_t> vertex_;
    std::int32_t nodes_ = 0;
    Hull hull_;
};

}  // namespace

bool mesh_faces(const TopoDS_Shape& shape) {
    try {
        Bnd_Box box;
        BRepBndLib::AddClose(shape, box);
        const double diagonal = box.IsVoid() ? 0.0 : std::sqrt(box.SquareExtent());
        if (!(diagonal > tolerance::weld && diagonal < tolerance::largest_model)) return false;
        // A face may bulge far beyond its edges, by a damaged pole: meshing it takes for ever.
        Bnd_Box whole;
        BRepBndLib::Add(shape, whole, Standard_False);
        if (!(std::sqrt(whole.SquareExtent()) < tolerance::largest_model)) return false;
        BRepMesh_IncrementalMesh mesher(shape, diagonal * tolerance::mesh_deflection_relative,
                                        Standard_False, tolerance::mesh_turn);
        return true;
    } catch (const Standard_Failure&) {
        return false;
    }
}

Hull hull_of_meshed(const TopoDS_Shape& shape) {
    try {
        return CadMesher(shape).hull();
    } catch (const Standard_Failure&) {
        return {};  // no triangles tells the caller
    }
}

Hull mesh_cad(const TopoDS_Shape& shape) {
    return mesh_faces(shape) ? hull_of_meshed(shape) : Hull{};
}

}  // namespace tearline::hull
