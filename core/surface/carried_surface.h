#pragma once
#include <memory>
#include <vector>

#include "core/surface/carrier.h"
#include "core/surface/surface_behind.h"

namespace tearline::surface {

/// The exact surface behind a patch's triangles, by the anchors of their corners.
class CarriedSurface final : public SurfaceBehind {
public:
    CarriedSurface(std::shared_ptr<const Carrier> carrier,
                   std::vector<std::array<Anchor, 3>> anchors, double sign,
                   std::shared_ptr<const Winding> winding = {})
        : carrier_(std::move(carrier)),
          anchors_(std::move(anchors)),
          sign_(sign),
          winding_(std::move(winding)) {}

    [[nodiscard]] const Winding* winding() const override { return winding_.get(); }

    [[nodiscard]] SurfaceSample at(const SurfaceMesh& mesh,
                                   const Location& location) const override;

private:
    std::shared_ptr<const Carrier> carrier_;
    std::vector<std::array<Anchor, 3>> anchors_;
    double sign_;  ///< +1 laid from outside, -1 from inside
    std::shared_ptr<const Winding> winding_;
};

}  // namespace tearline::surface
