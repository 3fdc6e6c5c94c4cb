#pragma once
#include <TopoDS_Shape.hxx>
#include <filesystem>

namespace tearline::samples {

/// Writes STEM.step and STEM.stl (binary, 1 mm deflection); the same shape gives the same bytes.
void write_model(const TopoDS_Shape& shape, const std::filesystem::path& stem);

}  // namespace tearline::samples
