#include "core/hull/shape_bytes.h"

#include <BinTools.hxx>
#include <TopoDS_Shape.hxx>
#include <sstream>
#include <utility>

namespace tearline::hull {

std::string bytes_of(const TopoDS_Shape& shape) {
    std::ostringstream bytes;
    BinTools::Write(shape, bytes);
    return std::move(bytes).str();
}

TopoDS_Shape read_shape(std::istream& bytes) {
    TopoDS_Shape shape;
    BinTools::Read(shape, bytes);
    return shape;
}

}  // namespace tearline::hull
