#pragma once
#include <string>
#include <vector>

#include "core/job/schema/tables.h"

/// The readers of the job file's tables, one a table; each leaves the first refusal in `refusals`.
namespace tearline::job {

/// A file split into its tables, and where refusals go.
struct JobSource {
    const Node* root = nullptr;
    Refusals* refusals = nullptr;

    /// A table at the top of the file.
    template <class T>
    [[nodiscard]] KeyReader<T> table(const Table<T>& keys, T& out, Job& job) const {
        return {*refusals, root->find(keys.path), std::string(keys.path), keys, out, job};
    }
};

void read_hull(const JobSource& source, Job& job);
/// [hull.measured], [hull.grid], [hull.sections], [hull.corner], of which at most one may stand,
/// without a model.
void read_measurements(TableReader& hull, Job& job);
/// [hull.scan]: what a person says of a model that is a measurement.
void read_scan(KeyReader<HullOptions>& hull, Job& job);
/// [damage.scan], [[damage.scan_after]]: the dish as scans of its own show it.
void read_dish_scans(KeyReader<Damage>& damage, Job& job);
void read_marks(const JobSource& source, Job& job);
/// [[damage.sounding]]; without damage.depth the deepest one gives it.
void read_soundings(KeyReader<Damage>& damage, Job& job);
/// [[damage.opening]]: what the cloth goes round.
void read_openings(KeyReader<Damage>& damage, Job& job);
void read_damage(const JobSource& source, Job& job);
void read_fabrics(const JobSource& source, Job& job);
void read_layup(const JobSource& source, Job& job);
/// [layup.inside], [layup.inner], [layup.outer], [backing], [core], and what holds of holes right
/// through and of cored skins.
void read_through(const JobSource& source, Job& job);
void read_resin(const JobSource& source, Job& job);
void read_topcoat(const JobSource& source, Job& job);
void read_shop(const JobSource& source, Job& job);
void read_old_laminate(const JobSource& source, Job& job);
void read_prices(const JobSource& source, Job& job);

/// Refuses points measured from marks that are not there.
void check_taped_points(const JobSource& source, const Job& job);

/// Plies of a stack, fill or cover: names or tables, with fabrics looked up.
void read_stack(TableReader& table, std::string_view key, Job& job, std::vector<StackEntry>& stack);

}  // namespace tearline::job
