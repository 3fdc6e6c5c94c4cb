#pragma once
#include <memory>

#include "core/hull/hull.h"
#include "core/surface/carrier.h"

namespace tearline::surface {

/// Carries points to the faces of a CAD model.
class CadCarrier final : public Carrier {
public:
    explicit CadCarrier(std::shared_ptr<const hull::CadFaces> faces) : faces_(std::move(faces)) {}

    [[nodiscard]] Carried carry(const Anchor& start, const Vec3& point) const override;
    [[nodiscard]] Anchor between(const std::array<Anchor, 3>& corner,
                                 const Vec3& weights) const override;
    [[nodiscard]] bool same(const Anchor& a, const Anchor& b) const override;
    [[nodiscard]] Vec3 edge_point(std::int32_t edge, double parameter) const override;

private:
    std::shared_ptr<const hull::CadFaces> faces_;
};

}  // namespace tearline::surface
