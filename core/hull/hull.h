#pragma once
#include <array>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/base/ids.h"
#include "core/base/vec.h"
#include "core/job/job.h"
#include "core/warnings/warning.h"

namespace tearline::hull {

using EdgeId = Id<struct CadEdgeTag>;  ///< an edge of the CAD model

/// A CAD face evaluated at its own parameters.
struct FacePoint {
    Vec3 position;       ///< [mm]
    Vec3 du, dv;         ///< first derivatives
    Vec3 duu, duv, dvv;  ///< second derivatives
};

/// The exact faces and edges of a CAD model, in mm and facing outward; any number of threads may
/// ask at once.
class CadFaces {
public:
    virtual ~CadFaces() = default;
    [[nodiscard]] virtual FacePoint evaluate(FaceId face, const Vec2& uv) const = 0;
    /// +1 where du x dv looks outward, -1 where it looks inward.
    [[nodiscard]] virtual double outward_sign(FaceId face) const = 0;
    [[nodiscard]] virtual Vec3 edge_point(EdgeId edge, double parameter) const = 0;
    /// Parameters on `face` of the edge's point.
    [[nodiscard]] virtual Vec2 edge_uv(EdgeId edge, FaceId face, double parameter) const = 0;
    /// The same; where the edge is a seam that bounds the face twice, the side nearer to `near`.
    [[nodiscard]] virtual Vec2 edge_uv(EdgeId edge, FaceId face, double parameter,
                                       const Vec2& near) const = 0;
};

/// A mesh edge that lies on an edge of the CAD model, with the parameters of its ends.
struct EdgeOnCad {
    std::int32_t from = -1, to = -1;  ///< vertices, from < to
    EdgeId edge;
    double parameter_from = 0.0, parameter_to = 0.0;
};

/// What `tearline hull` tells of a model.
struct HullReport {
    std::string format;  ///< "STEP", "STL (binary)", ...
    std::string unit;    ///< the unit that was applied
    int faces = 0;       ///< CAD faces, or 0
    std::size_t triangles_read = 0;
    Vec3 extent_min{0, 0, 0}, extent_max{0, 0, 0};  ///< [mm]
    double area_mm2 = 0.0;
    std::vector<double> body_areas;  ///< [mm2] parts that hang together, largest first
    bool closed = false;
    std::vector<double> opening_lengths;   ///< [mm] boundary loops, longest first
    std::string orientation;               ///< how outward was decided, in words
    bool outside_known = true;             ///< or too flat to tell, and as modelled
    double smallest_convex_radius = 0.0;   ///< [mm] 0: none found
    double smallest_concave_radius = 0.0;  ///< [mm] 0: none found
    Vec3 smallest_convex_at{0, 0, 0}, smallest_concave_at{0, 0, 0};
    std::vector<std::string> mended;  ///< a line for each kind of mending done
};

/// A plane holding bow and up that an open edge of the hull lies in: the centreline of a half hull
/// that has not been mirrored, or a real end of the hull. normal . p = offset.
struct CentrelinePlane {
    Vec3 normal;          ///< unit, bow x up (starboard)
    double offset = 0.0;  ///< [mm]
};

/// One figure that a hull was measured by.
struct MeasuredFigure {
    std::string place;    ///< in the job file: "hull.grid.offsets[2][4]"
    double figure = 0.0;  ///< [mm] as given
    double passes = 0.0;  ///< [mm] what the surface has there instead
    Vec3 at{0, 0, 0};     ///< [mm] on the surface
};

class TableInfluence;
class CornerShape;

/// A hull measured by hand.
struct HandMeasured {
    std::vector<MeasuredFigure> figures;
    Vec3 along{1, 0, 0}, across{0, 1, 0};  ///< unit, in the plane that the figures lie in
    double half = 0.0;  ///< [mm] battens: how far from the origin they reach each way; else 0
    /// What each of `figures` does to the surface; null for battens.
    std::shared_ptr<const TableInfluence> influence;
    /// Of a corner, whose points are told along its line and round it; null for others.
    std::shared_ptr<const CornerShape> corner;
    double tells =
        0.0;  ///< [mm] tables: one figure wrong by less does not stand out; may be infinite
};

/// The fair surface that was fitted to a scan.
class ScannedSurface {
public:
    virtual ~ScannedSurface() = default;
    /// The place on it nearest to a point, along the normals of its base [mm].
    [[nodiscard]] virtual Vec3 foot(const Vec3& point) const = 0;
    /// The normal at a place, of either sign.
    [[nodiscard]] virtual Vec3 normal(const Vec3& place) const = 0;
    /// One spread of how far it may lie off at a place, along its normal [mm].
    [[nodiscard]] virtual double height_error(const Vec3& place) const = 0;
};

/// A hull measured by a scan.
struct Scanned {
    std::string kind;              ///< "light", "photo", "depth"
    std::size_t points = 0;        ///< about the damage
    std::size_t used = 0;          ///< of them: believed to be sound skin
    double noise = 0.0;            ///< [mm] spread along the normal, the kind's at least
    double correlation = 0.0;      ///< [mm] how far an error reaches
    double spacing = 0.0;          ///< [mm] between neighbouring points
    double fairness = 0.0;         ///< [mm] waves shorter than this are taken for noise
    double least_fairness = 0.0;   ///< [mm] the same in the tightest bend
    double scale = 1.0;            ///< [-] that the scan's coordinates were taken times
    double scale_error = 0.0;      ///< [-] one spread of it
    double cover_degrees = 360.0;  ///< of the way round the damage that shows sound skin
    std::size_t strays = 0;        ///< points off the surface, outside the damage
    Vec3 farthest_stray{0, 0, 0};  ///< [mm]
    double stray_off = 0.0;        ///< [mm]
    /// Missing data, the largest first; not the damage itself.
    struct Hole {
        Vec3 at{0, 0, 0};  ///< [mm]
        double area_mm2 = 0.0;
    };
    std::vector<Hole> holes;
    /// The tightest bend that enters what is bridged, where the surface cannot follow it.
    struct Bend {
        double radius = 0.0;       ///< [mm]
        Vec3 at{0, 0, 0};          ///< [mm]
        std::vector<Vec3> middle;  ///< [mm] places along it, in order; none where it is no line
    };
    std::optional<Bend> bend;
    /// A place where the scan's points leave the surface, by more than their noise.
    struct Unfollowed {
        Vec3 at{0, 0, 0};  ///< [mm]
        double off = 0.0;  ///< [mm]
    };
    std::optional<Unfollowed> unfollowed;
    /// A line that the hull turns along, though nobody marked it.
    struct Chine {
        std::vector<Vec3> points;   ///< [mm] three, in order along it
        double turn_degrees = 0.0;  ///< from one side to the other
    };
    std::vector<Chine> chines;         ///< kept sharp
    std::vector<Chine> doubtful;       ///< too unsure for that, and not followed
    std::vector<double> tape_misfits;  ///< [mm] what each tape reads less what the hull then has
    std::shared_ptr<const ScannedSurface> surface;
};

/// The ground place as a scan shows it.
struct DishPoints {
    std::vector<Vec3> points;                              ///< [mm]
    double noise = 0.0, correlation = 0.0, spacing = 0.0;  ///< [mm]
    std::map<std::string, Vec3> marks;  ///< [mm] in the same coordinates; none: those of the hull
};

/// A surface model as read: one mended, sewn, outward-facing surface in mm.
struct Hull {
    std::vector<Vec3> vertices;                          ///< [mm], welded
    std::vector<std::array<std::int32_t, 3>> triangles;  ///< counter-clockwise seen from outside
    std::vector<FaceId> face;                            ///< per triangle; empty for mesh input
    std::vector<std::array<Vec2, 3>> corner_uv;  ///< per triangle corner; empty for mesh input
    std::vector<EdgeOnCad> cad_edges;            ///< empty for mesh input
    std::shared_ptr<const CadFaces> cad;         ///< null for mesh input
    std::int32_t cad_edge_count = 0;  ///< edges of the model itself, mirror images not counted
    /// Where an edge that is cut there needs the answer of `hull.mirror` (no_safe_answer); empty
    /// once the job has answered, and where no open edge lies in such a plane.
    std::vector<CentrelinePlane> centreline;
    job::Side surface = job::Side::outside;  ///< which face of the skin this is
    /// [mm] Facets of the other face of the skin, and of its rims, where the model holds both
    /// faces.
    std::vector<std::array<Vec3, 3>> other_face;
    HullReport report;
    Warnings warnings;
    std::string sha256;  ///< of the model file, or of the figures measured
    std::optional<HandMeasured> by_hand;
    std::optional<Scanned> scanned;
    std::shared_ptr<const DishPoints> dish;         ///< the dish by a scan; null: there is none
    std::shared_ptr<const DishPoints> dish_before;  ///< before anything was laid in it; or null
};

}  // namespace tearline::hull
