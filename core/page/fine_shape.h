#pragma once
#include <cstddef>

#include "core/hull/hull.h"
#include "core/page/shape.h"

namespace tearline::page {

/// The facets of a CAD hull split until points picked on them lie on its faces, but for hundredths
/// of a millimetre (tolerance::off_the_faces); the facets it was read with lie millimetres off.
///
/// A facet's sides are halved where the face's own middle lies off them, alike in both facets of a
/// side, so that the hull stays as whole as it was.
/// @param hull  with exact faces
/// @param most  triangles; splitting ends before the round that would pass it
[[nodiscard]] Shape fine_shape(const hull::Hull& hull, std::size_t most);

}  // namespace tearline::page
