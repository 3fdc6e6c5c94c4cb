#pragma once
#include "core/plan.h"

namespace tearline::layout {

/// Fills `plan.rolls`: the pieces of each fabric, every copy, nested on its roll.
///
/// Mat turns freely; woven and biaxial cloth lies with its axis along the roll, either way round.
/// x runs along the roll, y across it. A piece wider than its roll is left out, with the warning
/// `wider-than-roll`. Needs the templates; call it before label_plan().
void nest_rolls(Plan& plan);

}  // namespace tearline::layout
