#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/outline.h"
#include "core/formats/json_writer.h"
#include "core/page/shape.h"

namespace tearline::page {

/// Writes what a page shows: JSON, its long arrays as base64 of little-endian numbers. Places are
/// float32 from a middle, so that they keep a thousandth of a mm anywhere on a hull.
class DataWriter {
public:
    /// @param middle  [mm] that places in arrays are counted from
    explicit DataWriter(const Vec3& middle) : middle_(middle) {
        json_.begin_object().field("middle", middle);
    }
    [[nodiscard]] formats::JsonWriter& json() { return json_; }

    void places(std::string_view name, const std::vector<Vec3>& points);
    /// Vertices as "places", triangles as "corners".
    void shape(const Shape& shape);
    void bytes(std::string_view name, const std::vector<std::uint8_t>& levels);
    /// Closed lines, each an array of places.
    void loops(std::string_view name, const std::vector<Region3>& regions);

    [[nodiscard]] std::string take() { return json_.end_object().take(); }

private:
    [[nodiscard]] std::string encoded(const std::vector<Vec3>& points) const;

    formats::JsonWriter json_;
    Vec3 middle_;
};

}  // namespace tearline::page
