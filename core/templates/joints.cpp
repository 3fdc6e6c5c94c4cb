#include "core/templates/joints.h"

#include "core/pieces/seam_runs.h"

namespace tearline::templates {

void add_joints(const pieces::Piece& piece, const std::vector<std::vector<Vec2>>& joints,
                std::vector<Mark>& marks) {
    for (const auto& run : pieces::seam_runs(piece, joints)) {
        Joint joint;
        for (const std::int32_t v : run)
            joint.run.push_back(piece.flat[static_cast<std::size_t>(v)]);
        marks.emplace_back(std::move(joint));
    }
}

}  // namespace tearline::templates
