#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "core/hull/hull.h"

class TopoDS_Shape;

namespace tearline::hull {

/// The plane a half hull is reflected in: normal . p = offset.
struct MirrorPlane {
    Vec3 normal;    ///< unit
    double offset;  ///< [mm]
};

Vec3 reflected(const MirrorPlane& plane, const Vec3& point);
Vec3 reflected_direction(const MirrorPlane& plane, const Vec3& direction);

/// Faces and edges of a shape, numbered as TopExp::MapShapes numbers them, from 0.
[[nodiscard]] std::shared_ptr<const CadFaces> faces_of(const TopoDS_Shape& shape);

/// Another model's faces with their outward signs, and with a mirror image behind them: face
/// `count` + f is the reflection of face f, and likewise for edges.
struct PlacedFaces {
    std::shared_ptr<const CadFaces> inner;
    std::vector<double> outward;        ///< per inner face: +1 where du x dv looks outward
    std::int32_t faces = 0, edges = 0;  ///< of the inner model
    std::optional<MirrorPlane> mirror;
};
[[nodiscard]] std::shared_ptr<const CadFaces> placed(PlacedFaces faces);

}  // namespace tearline::hull
