#pragma once
#include <map>
#include <memory>
#include <vector>

#include "core/hull/hull.h"
#include "core/surface/carrier.h"

namespace tearline::patch {

/// Carries points to the faces of a CAD model.
class CadCarrier final : public surface::Carrier {
public:
    explicit CadCarrier(std::shared_ptr<const hull::CadFaces> faces) : faces_(std::move(faces)) {}

    [[nodiscard]] surface::Carried carry(const surface::Anchor& start,
                                         const Vec3& point) const override;
    [[nodiscard]] surface::Anchor between(const std::array<surface::Anchor, 3>& corner,
                                          const Vec3& weights) const override;
    [[nodiscard]] bool same(const surface::Anchor& a, const surface::Anchor& b) const override;
    [[nodiscard]] Vec3 edge_point(std::int32_t edge, double parameter) const override;

    /// An edge that no CAD edge stands for: straight, parameters 0 to 1. Returns its number.
    [[nodiscard]] std::int32_t add_straight(const Vec3& from, const Vec3& to);

    /// Learns where faces collapse from a corner of a triangle that lies there: at the pole of a
    /// sphere a whole line of parameters is one point, and a corner's place along it means nothing.
    void note_pole(const surface::Anchor& corner);

private:
    /// A line of a face's parameters that is one point of space.
    struct Pole {
        int axis = 0;  ///< which parameter is constant along it
        double value = 0.0;
    };
    [[nodiscard]] const Pole* pole_at(const surface::Anchor& anchor) const;

    std::map<std::int32_t, std::vector<Pole>> poles_;        ///< by face
    static constexpr std::int32_t first_straight = 1 << 30;  ///< numbers of straight edges
    std::vector<std::array<Vec3, 2>> straight_;
    std::shared_ptr<const hull::CadFaces> faces_;
};

}  // namespace tearline::patch
