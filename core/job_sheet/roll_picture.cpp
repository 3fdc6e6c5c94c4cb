#include "core/job_sheet/roll_picture.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "core/formats/svg.h"
#include "core/plane/room.h"
#include "core/plane/turned.h"

namespace tearline::job_sheet {

std::string roll_picture(const Plan& plan, const layout::Roll& roll, double most_height) {
    if (roll.placed.empty() || !(roll.length_mm > 0.0) || !(roll.width_mm > 0.0)) return {};
    const double scale = std::min(168.0 / roll.length_mm, most_height / roll.width_mm);
    const Vec2 size = scale * Vec2(roll.length_mm, roll.width_mm);
    std::string out = formats::svg_begin(size + Vec2(1, 1), {-0.5, -0.5}) + "<rect width=\"" +
                      formats::svg_number(size.x()) + "\" height=\"" +
                      formats::svg_number(size.y()) +
                      "\" fill=\"#f4f6f7\" stroke=\"#55636c\" stroke-width=\"0.3\"/>\n";
    for (const layout::Placement& place : roll.placed) {
        const templates::LaidPiece* piece = templates::piece_named(place.piece, plan.plies);
        if (piece == nullptr && plan.backing)
            piece = templates::piece_named(place.piece, plan.backing->pieces);
        if (piece == nullptr) continue;
        const double turn = place.turn_deg * std::numbers::pi / 180.0;
        // x runs along the roll, y across it.
        const auto on_picture = [&](const Loop2& loop) {
            std::vector<Vec2> points;
            for (const Vec2& p : loop) {
                const Vec2 at = plane::turned(p, turn) + Vec2(place.x_mm, place.y_mm);
                points.emplace_back(std::round(scale * at.x() * 100) / 100,
                                    std::round(scale * (roll.width_mm - at.y()) * 100) / 100);
            }
            return points;
        };
        const Region2& region = piece->outline.parting_region();
        const std::vector<Vec2> points = on_picture(region.outer);
        std::string path = formats::svg_path(points, true);
        for (const Loop2& hole : region.holes) path += formats::svg_path(on_picture(hole), true);
        const plane::Box box = plane::box_round(points);
        const Vec2 middle = 0.5 * (box.low + box.high);
        constexpr double letter = 0.62;  // [-] of its height, of common sans serif faces
        const double size = std::min(
            {3.5, 0.3 * box.size().minCoeff(),
             box.size().x() / (letter * double(std::max<std::size_t>(place.piece.size(), 1)))});
        out +=
            "<path fill=\"#cfe0ea\" fill-rule=\"evenodd\" stroke=\"#12405d\" "
            "stroke-width=\"0.3\" d=\"" +
            path + "\"/><text x=\"" + formats::svg_number(middle.x()) + "\" y=\"" +
            formats::svg_number(middle.y() + 0.36 * size) + "\" font-size=\"" +
            formats::svg_number(size) + "\" text-anchor=\"middle\">" +
            formats::escaped(place.piece) + "</text>\n";
    }
    return out + "</svg>";
}

}  // namespace tearline::job_sheet
