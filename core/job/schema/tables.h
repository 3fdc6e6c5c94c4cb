#pragma once
#include "core/job/schema/key.h"
#include "core/job/schema/values.h"

/// The tables of the job file; a row a key (see key.h).
namespace tearline::job {

/// The top of the file, and its tables.
[[nodiscard]] const Table<Job>& job_keys();
[[nodiscard]] const Table<HullOptions>& hull_keys();
[[nodiscard]] const Table<BattenGaps>& batten_keys();
[[nodiscard]] const Table<OffsetGrid>& grid_keys();
[[nodiscard]] const Table<OffsetTable>& section_keys();
[[nodiscard]] const Table<Corner>& corner_keys();
[[nodiscard]] const Table<HullScan>& scan_keys();
[[nodiscard]] const Table<ScanTape>& scan_tape_keys();
[[nodiscard]] const Table<ScanCrease>& scan_crease_keys();
[[nodiscard]] const Table<Mark>& mark_keys();
[[nodiscard]] const Table<Damage>& damage_keys();
[[nodiscard]] const Table<Opening>& opening_keys();
[[nodiscard]] const Table<Sounding>& sounding_keys();
[[nodiscard]] const Table<DishScan>& dish_scan_keys();
[[nodiscard]] const Table<DishScan>& scan_after_keys();
[[nodiscard]] const Table<Scarf>& scarf_keys();
[[nodiscard]] const Table<Layup>& layup_keys();
/// [layup.inside], [layup.inner], [layup.outer]: what differs there from [layup].
[[nodiscard]] const Table<Layup>& inside_layup_keys();
[[nodiscard]] const Table<Layup>& inner_layup_keys();
[[nodiscard]] const Table<Layup>& outer_layup_keys();
[[nodiscard]] const Table<Backing>& backing_keys();
[[nodiscard]] const Table<Core>& core_keys();
/// A ply of a stack, fill or cover that is more than the name of its cloth.
[[nodiscard]] const Table<StackEntry>& ply_keys();
[[nodiscard]] const Table<Fabric>& fabric_keys();
[[nodiscard]] const Table<Resin>& resin_keys();
[[nodiscard]] const Table<GelAt>& gel_keys();
[[nodiscard]] const Table<Topcoat>& topcoat_keys();
[[nodiscard]] const Table<Laminator>& laminator_keys();
[[nodiscard]] const Table<Shop>& shop_keys();
[[nodiscard]] const Table<OldLaminate>& old_laminate_keys();
[[nodiscard]] const Table<Prices>& price_keys();

/// Calls `visit(table)` with each of them in the order of the file.
template <class Visit>
void for_each_table(Visit visit) {
    visit(job_keys());
    visit(hull_keys());
    visit(batten_keys());
    visit(grid_keys());
    visit(section_keys());
    visit(corner_keys());
    visit(scan_keys());
    visit(scan_tape_keys());
    visit(scan_crease_keys());
    visit(mark_keys());
    visit(damage_keys());
    visit(opening_keys());
    visit(sounding_keys());
    visit(dish_scan_keys());
    visit(scan_after_keys());
    visit(scarf_keys());
    visit(layup_keys());
    visit(inside_layup_keys());
    visit(inner_layup_keys());
    visit(outer_layup_keys());
    visit(backing_keys());
    visit(core_keys());
    visit(ply_keys());
    visit(fabric_keys());
    visit(resin_keys());
    visit(gel_keys());
    visit(topcoat_keys());
    visit(laminator_keys());
    visit(shop_keys());
    visit(old_laminate_keys());
    visit(price_keys());
}

/// "port", "up", ...: which of two places has the same distances from two marks.
[[nodiscard]] const Words<TapedSide>& side_words();
[[nodiscard]] const Words<ScanKind>& scan_kind_words();
[[nodiscard]] const Words<FabricKind>& fabric_kind_words();
[[nodiscard]] const Words<ResinKind>& resin_kind_words();
[[nodiscard]] const Words<Side>& face_words();

}  // namespace tearline::job
