#include "core/templates/hull_end.h"

#include <algorithm>

#include "core/plane/segment.h"
#include "core/templates/tolerances.h"

namespace tearline::templates {

namespace {

using Segment = std::array<Vec3, 2>;

std::vector<Segment> ends_of(const surface::Patch& patch) {
    std::vector<Segment> ends;
    for (std::size_t t = 0; t < patch.mesh.triangle.size(); ++t)
        for (std::size_t i = 0; i < 3; ++i) {
            if (patch.neighbour[t][i] >= 0 || !patch.hull_end[t][i]) continue;
            const auto& corner = patch.mesh.triangle[t];
            ends.push_back({patch.mesh.position[static_cast<std::size_t>(corner[i])],
                            patch.mesh.position[static_cast<std::size_t>(corner[(i + 1) % 3])]});
        }
    return ends;
}

bool lies_on(const Vec3& point, const std::vector<Segment>& ends) {
    return std::any_of(ends.begin(), ends.end(), [&](const Segment& end) {
        return plane::distance_to_segment(end[0], end[1], point) < tolerance::on_hull_end;
    });
}

}  // namespace

void add_hull_ends(const pieces::Piece& piece, const surface::Patch& patch,
                   std::vector<Mark>& marks) {
    const std::vector<Segment> ends = ends_of(patch);
    if (ends.empty()) return;
    for (const auto& loop : surface::boundary_loops(piece.lay)) {
        std::vector<bool> on(loop.size());
        for (std::size_t i = 0; i < loop.size(); ++i)
            on[i] = lies_on(piece.base[static_cast<std::size_t>(loop[i])], ends);
        const auto off = std::find(on.begin(), on.end(), false);
        if (off == on.end()) continue;  // all round: an opening, not an end that stops a scarf
        const auto first = static_cast<std::size_t>(off - on.begin());
        std::vector<Vec2> run;
        const auto finish = [&] {
            if (run.size() > 1) marks.emplace_back(HullEnd{run});
            run.clear();
        };
        for (std::size_t k = 0; k < loop.size(); ++k) {
            const std::size_t i = (first + k) % loop.size();
            if (on[i])
                run.push_back(piece.flat[static_cast<std::size_t>(loop[i])]);
            else
                finish();
        }
        finish();
    }
}

}  // namespace tearline::templates
