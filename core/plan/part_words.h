#pragma once
#include "core/plan/plan.h"

namespace tearline::plan {

/// Puts into a part's last stage what comes between it and the next part of the repair: cure, what
/// is taken out or put in, what is ground, and what must not be done yet.
void tell_what_comes_between(Plan& part, const job::Job& next);

}  // namespace tearline::plan
