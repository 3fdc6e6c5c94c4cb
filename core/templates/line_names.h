#pragma once
#include "core/templates/template.h"

namespace tearline::templates {

/// Writes along its lines what they are: the one the cloth is parted along, the net line of mat,
/// the torn band, where the hull ends, slits and holes. A name stands where it covers nothing, as
/// near as may be to where it is wanted.
void name_lines(Template& outline);

}  // namespace tearline::templates
