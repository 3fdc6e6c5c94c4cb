#include "core/hull/for_another_thread.h"

#include "core/hull/cad_faces.h"

namespace tearline::hull {

Hull for_another_thread(const Hull& hull) {
    Hull out = hull;
    if (out.cad) out.cad = with_own_caches(hull.cad);
    return out;
}

}  // namespace tearline::hull
