#pragma once
#include "core/templates/template.h"

namespace tearline::templates {

/// Draws a grid of kerfs, both ways from the datum, over the face of a core plug that is cut first.
///
/// @param pitch  [mm] from kerf to kerf
/// @param turn   [rad] of the first set, from +x
void add_kerfs(double pitch, double turn, Template& outline);

}  // namespace tearline::templates
