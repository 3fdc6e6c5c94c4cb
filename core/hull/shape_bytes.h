#pragma once
#include <iosfwd>
#include <string>

class TopoDS_Shape;

namespace tearline::hull {

/// A shape with its triangles as bytes that another process of the same program reads: to the last
/// bit, but for faces that the model placed by a turn.
[[nodiscard]] std::string bytes_of(const TopoDS_Shape& shape);

/// @throws Standard_Failure  where the bytes are no shape
[[nodiscard]] TopoDS_Shape read_shape(std::istream& bytes);

}  // namespace tearline::hull
