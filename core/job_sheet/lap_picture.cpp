#include "core/job_sheet/lap_picture.h"

#include <algorithm>
#include <map>

#include "core/formats/svg.h"
#include "core/job_sheet/cloth_lines.h"

namespace tearline::job_sheet {

namespace {

/// [-] of a line's length: how far from its end its number stands, clear of the numbers on the
/// rings.
constexpr double plate_share = 0.3;
/// [mm] on paper: nearer ones share a plate.
constexpr double plates_apart = 4.5;

/// The numbers of the plies whose lines lie together.
struct Plate {
    Vec2 at{0, 0};  ///< on paper
    std::vector<int> plies;
};

void add_number(std::vector<Plate>& plates, const Vec2& at, int ply) {
    for (Plate& plate : plates) {
        if ((plate.at - at).norm() > plates_apart) continue;
        if (plate.plies.back() != ply) plate.plies.push_back(ply);
        return;
    }
    plates.push_back({at, {ply}});
}

/// A part of the way along a line from its end that lies farther to the right, a little higher
/// weighing in: the pieces on both sides of a seam choose the same.
Vec2 place_of_number(const std::vector<Vec3>& line, const HullProjection& view) {
    std::vector<Vec2> points;
    for (const Vec3& p : line) points.push_back(view(p));
    const Vec2 way = points.back() - points.front();
    if (way.x() - 0.31 * way.y() < 0.0) std::reverse(points.begin(), points.end());
    double left = 0.0;
    for (std::size_t i = 1; i < points.size(); ++i) left += (points[i] - points[i - 1]).norm();
    left *= plate_share;
    for (std::size_t i = points.size() - 1; i > 0; --i) {
        const Vec2 step = points[i - 1] - points[i];
        if (step.norm() >= left) return points[i] + left * step.normalized();
        left -= step.norm();
    }
    return points.front();
}

std::string drawn(const Plate& plate) {
    std::string text;
    for (const int ply : plate.plies) text += (text.empty() ? "" : ", ") + std::to_string(ply);
    const double width = 2.2 + 1.75 * static_cast<double>(text.size());
    return "<rect x=\"" + formats::svg_number(plate.at.x() - 0.5 * width) + "\" y=\"" +
           formats::svg_number(plate.at.y() - 2.0) + "\" width=\"" + formats::svg_number(width) +
           "\" height=\"4\" rx=\"0.8\" fill=\"#fff\" stroke=\"#7a4b00\" stroke-width=\"0.3\"/>" +
           formats::svg_text(plate.at + Vec2(0, 1.1), text, {3.0, "middle", "#7a4b00", true}) +
           "\n";
}

/// What is drawn of all plies, layer by layer.
struct Layers {
    std::map<double, std::string> bands;  ///< path data by width of the lap
    std::string lines;
    std::vector<Plate> plates;
};

/// What is only laid flat is no ply: its lines have no number.
void add_ply(Layers& layers, const templates::LaidPly& ply, double lap,
             const HullProjection& view) {
    const auto number_at = [&](const std::vector<Vec3>& line) {
        if (ply.number > 0) add_number(layers.plates, place_of_number(line, view), ply.number);
    };
    for (const templates::LaidPiece& piece : ply.pieces) {
        for (const auto& seam : seams_on_hull(piece.piece)) {
            const std::string d = projected_line(seam, view);
            if (lap > 0.0) layers.bands[lap] += d;
            layers.lines +=
                "<path class=\"seam\" stroke=\"#7a4b00\" stroke-width=\"0.4\" d=\"" + d + "\"/>\n";
            number_at(seam);
        }
        for (const auto& cut : cuts_on_hull(piece.piece)) {
            layers.lines +=
                "<path class=\"relief-cut\" stroke=\"#a3250b\" stroke-width=\"0.5\" d=\"" +
                projected_line(cut, view) + "\"/>\n";
            number_at(cut);
        }
    }
}

}  // namespace

double lap_of(const templates::LaidPly& ply, const job::Job& job) {
    const auto known = job.fabrics.find(ply.fabric);
    if (known == job.fabrics.end()) return 0.0;
    const job::Fabric& fabric = known->second;
    return fabric.kind == job::FabricKind::mat ? 2.0 * fabric.tear_margin : fabric.lap;
}

std::string laps_on_hull(const Plan& plan, const HullProjection& view) {
    Layers layers;
    for (const templates::LaidPly& ply : plan.plies)
        add_ply(layers, ply, lap_of(ply, plan.job), view);
    if (layers.lines.empty()) return {};
    std::string out = "<g id=\"seams\" fill=\"none\">\n";
    // One veil over all: bands of several plies at one place must not hide what lies under them.
    for (const auto& [lap, d] : layers.bands)
        out += "<path class=\"lap\" stroke=\"#e0a100\" stroke-opacity=\"0.45\" stroke-width=\"" +
               formats::svg_number(lap * view.scale) + "\" d=\"" + d + "\"/>\n";
    out += layers.lines + "</g>\n";
    if (layers.plates.empty()) return out;
    out += "<g id=\"seam-numbers\">\n";
    for (const Plate& plate : layers.plates) out += drawn(plate);
    return out + "</g>\n";
}

}  // namespace tearline::job_sheet
