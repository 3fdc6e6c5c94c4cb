#pragma once
#include "core/formats/json_writer.h"
#include "core/plan/plan.h"

namespace tearline::formats {

/// Marks under "marks", as template or guide draws them.
void write_marks(JsonWriter& json, const std::vector<templates::Mark>& marks);

/// A piece of a ply, of what closes a hole, or of what is only laid flat.
/// @param amounts  null where there is no repair that it takes glass for
void write_piece(JsonWriter& json, const templates::LaidPly& ply, const templates::LaidPiece& laid,
                 const quantities::PieceAmounts* amounts);

/// A kind of cloth as a job file spells it.
std::string_view kind_name(job::FabricKind kind);

/// The plies in order of laying, under "plies".
void write_plies(JsonWriter& json, const Plan& plan);

}  // namespace tearline::formats
