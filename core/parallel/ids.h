#pragma once
#include "core/base/per_id.h"

namespace tearline::parallel {

using CopyId = Id<struct CopyTag>;      ///< one sheet's copy of a vertex of the base mesh
using StripId = Id<struct StripTag>;    ///< a trimmed strip
using CornerId = Id<struct CornerTag>;  ///< a point where trimmed creases meet
using LayId = Id<struct LayTag>;        ///< a vertex of the surface at depth

}  // namespace tearline::parallel
