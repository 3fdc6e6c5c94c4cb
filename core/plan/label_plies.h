#pragma once
#include <string>
#include <vector>

#include "core/damage/flat_frame.h"
#include "core/job/job.h"
#include "core/quantities/glass_and_resin.h"
#include "core/warnings/warning.h"

namespace tearline::plan {

/// What the words on a template say that it is of.
struct LabelledAs {
    const job::Job& job;
    std::string repair;  ///< its name among the places of a boat; or ""
};

/// Plies with the words on every template that a person at the table must know: ply and piece,
/// fabric, job, which face looks at them, area, glass and resin, and the warnings that concern the
/// piece; clear of the names of lines, which have to stand there.
///
/// @param amounts   of each ply
/// @param warnings  all there are: call it last
[[nodiscard]] std::vector<templates::LaidPly> labelled(
    std::vector<templates::LaidPly> plies, const std::vector<quantities::PlyAmounts>& amounts,
    const Warnings& warnings, const LabelledAs& as, const damage::FlatFrame& frame);

}  // namespace tearline::plan
