#include "core/job/schema/values.h"

#include "core/base/numbers.h"

namespace tearline::job {

Node node_of(int number) {
    return {.kind = Node::Kind::number, .number = static_cast<double>(number), .integer = true};
}

Node node_of(double number) {
    return {.kind = Node::Kind::number, .number = number};
}

Node node_of(std::string_view text) {
    return {.kind = Node::Kind::text, .text = std::string(text)};
}

Node node_of(const std::string& text) {
    return node_of(std::string_view(text));
}

Node node_of(const std::array<double, 2>& pair) {
    return node_of(std::vector<double>{pair[0], pair[1]});
}

Node node_of(const Vec3& point) {
    return node_of(std::vector<double>{point.x(), point.y(), point.z()});
}

Node node_of(GramsPerSquareMetre weight) {
    return node_of(shortest(weight.value()) + " g/m2");
}

Node node_of(Grams mass) {
    return node_of(shortest(mass.value()) + " g");
}

Node node_of(const Can& can) {
    return node_of(can.text);
}

TableReader::Taping taping_of(Job& job, TapedPoint::Use use) {
    const std::size_t index = use == TapedPoint::Use::sounding ? job.damage.soundings.size()
                              : use == TapedPoint::Use::mark   ? job.marks.size()
                                                               : 0;
    return {job.taped, use, job.hull.measured || job.hull.grid || job.hull.corner, index};
}

}  // namespace tearline::job
