#include "core/output/write_plan.h"

#include "core/output/piece_mesh.h"
#include "core/output/replace_folder.h"

namespace tearline::output {

Result<void> write_plan(const Plan& plan, const std::filesystem::path& folder,
                        const OutputOptions& options) {
    FileSet files;
    files.push_back({"plan.json", plan_json(plan)});
    for (const PlannedPly& ply : plan.plies)
        for (const PlannedPiece& piece : ply.pieces)
            files.push_back({"pieces/" + piece.piece.id + ".bin", piece_mesh(piece.piece)});
    (void)options;
    return replace_folder(folder, files);
}

}  // namespace tearline::output
