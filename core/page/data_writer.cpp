#include "core/page/data_writer.h"

#include <bit>
#include <cstring>

#include "core/page/base64.h"

namespace tearline::page {

static_assert(std::endian::native == std::endian::little);

namespace {

template <class Number>
void append(std::string& bytes, Number number) {
    char raw[sizeof(Number)];
    std::memcpy(raw, &number, sizeof(Number));
    bytes.append(raw, sizeof(Number));
}

}  // namespace

std::string DataWriter::encoded(const std::vector<Vec3>& points) const {
    std::string bytes;
    bytes.reserve(12 * points.size());
    for (const Vec3& p : points)
        for (int k = 0; k < 3; ++k) append(bytes, static_cast<float>(p[k] - middle_[k]));
    return base64(bytes);
}

void DataWriter::places(std::string_view name, const std::vector<Vec3>& points) {
    json_.field(name, encoded(points));
}

void DataWriter::shape(const Shape& shape) {
    places("places", shape.vertices);
    std::string bytes;
    bytes.reserve(12 * shape.triangles.size());
    for (const auto& triangle : shape.triangles)
        for (const std::int32_t corner : triangle) append(bytes, corner);
    json_.field("corners", base64(bytes));
}

void DataWriter::bytes(std::string_view name, const std::vector<std::uint8_t>& levels) {
    json_.field(name, base64(std::string(levels.begin(), levels.end())));
}

void DataWriter::loops(std::string_view name, const std::vector<Region3>& regions) {
    json_.key(name).begin_array();
    for (const Region3& region : regions) {
        json_.value(encoded(region.outer));
        for (const Loop3& hole : region.holes) json_.value(encoded(hole));
    }
    json_.end_array();
}

}  // namespace tearline::page
