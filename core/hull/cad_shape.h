#pragma once
#include <memory>
#include <string>

#include "core/base/result.h"
#include "core/hull/model_file.h"

class TopoDS_Shape;

namespace tearline::hull {

/// The faces of a CAD file as one sewn shape in mm.
struct CadShape {
    std::shared_ptr<const TopoDS_Shape> shape;
    std::string unit;  ///< of the file: "mm", "m", "in", ... as the file names it
    int faces = 0;
    int sewn_edges = 0;  ///< edges joined that the file had left apart
};

/// Reads STEP, IGES or BREP, sews its faces where they are not joined and meshes them, all in a
/// child process: what that handed over is all that this one reads.
///
/// @error bad_input  damaged, without a face, or with faces that cannot be meshed
[[nodiscard]] Result<CadShape> read_cad_shape(const ModelFile& file);

}  // namespace tearline::hull
