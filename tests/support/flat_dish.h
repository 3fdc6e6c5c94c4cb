#pragma once
#include "core/dish/depth_field.h"

namespace tearline::test {

/// A dish that is 4 mm deep wherever it is asked, planned and by no scan.
class FlatDish final : public dish::DepthField {
public:
    [[nodiscard]] double depth(const Vec2&) const override { return 4.0; }
    [[nodiscard]] double deepest() const override { return 4.0; }
    [[nodiscard]] bool measured() const override { return false; }
};

}  // namespace tearline::test
