#include "core/hull/part_of_hull.h"

#include <algorithm>
#include <map>
#include <string>
#include <utility>

#include "core/hull/tolerances.h"

namespace tearline::hull {
namespace {

/// The places that a vertex has in the parameters of one face: two along its seam, many at a pole.
class ParameterPlaces {
public:
    std::size_t place_of(const Vec2& uv) {
        const auto found = std::find_if(places_.begin(), places_.end(), [&](const Vec2& known) {
            return (known - uv).norm() <= tolerance::same_parameters * (1.0 + uv.norm());
        });
        if (found == places_.end()) places_.push_back(uv);
        return static_cast<std::size_t>(std::distance(places_.begin(), found));
    }
    [[nodiscard]] bool on_seam() const { return places_.size() == 2; }

private:
    std::vector<Vec2> places_;
};

/// Gives the corners of a face vertices of their own on either side of its seam.
class Parted {
public:
    explicit Parted(const Hull& whole, FaceId face) : whole_(whole) {
        for (std::size_t t = 0; t < whole.triangles.size(); ++t)
            if (whole.face[t] == face) triangles_.push_back(t);
        for (const std::size_t t : triangles_)
            for (std::size_t i = 0; i < 3; ++i)
                places_[whole.triangles[t][i]].place_of(whole.corner_uv[t][i]);
    }
    [[nodiscard]] bool empty() const { return triangles_.empty(); }

    void fill(Hull& part) {
        for (const std::size_t t : triangles_) {
            std::array<std::int32_t, 3> corners{};
            for (std::size_t i = 0; i < 3; ++i) corners[i] = vertex_of(t, i, part);
            for (std::size_t i = 0; i < 3; ++i)
                was_[{corners[i], corners[(i + 1) % 3]}] = {whole_.triangles[t][i],
                                                            whole_.triangles[t][(i + 1) % 3]};
            part.triangles.push_back(corners);
            part.face.push_back(whole_.face[t]);
            part.corner_uv.push_back(whole_.corner_uv[t]);
        }
        add_edges(part);
    }

private:
    using Edge = std::pair<std::int32_t, std::int32_t>;

    std::int32_t vertex_of(std::size_t triangle, std::size_t corner, Hull& part) {
        const std::int32_t old = whole_.triangles[triangle][corner];
        ParameterPlaces& places = places_[old];
        const std::size_t side =
            places.on_seam() ? places.place_of(whole_.corner_uv[triangle][corner]) : 0;
        const auto [known, fresh] =
            number_.try_emplace({old, side}, static_cast<std::int32_t>(part.vertices.size()));
        if (fresh) part.vertices.push_back(whole_.vertices[static_cast<std::size_t>(old)]);
        return known->second;
    }

    /// The edges of the model again, one along either side of a seam.
    void add_edges(Hull& part) {
        std::map<Edge, const EdgeOnCad*> on_cad;
        for (const EdgeOnCad& edge : whole_.cad_edges) on_cad[{edge.from, edge.to}] = &edge;
        for (const auto& [now, before] : was_) {
            if (now.first > now.second && was_.count({now.second, now.first}) > 0) continue;
            const auto found = on_cad.find(std::minmax(before.first, before.second));
            if (found == on_cad.end()) continue;
            EdgeOnCad edge = *found->second;
            const bool along = before.first < before.second;
            edge.from = along ? now.first : now.second;
            edge.to = along ? now.second : now.first;
            if (edge.from > edge.to) {
                std::swap(edge.from, edge.to);
                std::swap(edge.parameter_from, edge.parameter_to);
            }
            part.cad_edges.push_back(edge);
        }
    }

    const Hull& whole_;
    std::vector<std::size_t> triangles_;
    std::map<std::int32_t, ParameterPlaces> places_;
    std::map<std::pair<std::int32_t, std::size_t>, std::int32_t> number_;
    std::map<Edge, Edge> was_;  ///< edges of triangles, as their ends were numbered before
};

}  // namespace

Result<Hull> face_alone(const Hull& hull, int number) {
    if (!hull.cad)
        return bad_input("--face", std::to_string(number) +
                                       ": a mesh has no faces by number; say which piece of it by "
                                       "--outline");
    if (number < 1 || number > hull.report.faces)
        return bad_input("--face", std::to_string(number) + ": the model has " +
                                       (hull.report.faces == 1
                                            ? std::string("one face, 1")
                                            : "faces 1 to " + std::to_string(hull.report.faces)));
    Parted parted(hull, FaceId(number - 1));
    if (parted.empty())
        return bad_input("--face", std::to_string(number) +
                                       ": lies on the other side of the skin; say --side inside, "
                                       "or --side outside");
    Hull part;
    part.cad = hull.cad;
    part.cad_edge_count = hull.cad_edge_count;
    part.surface = hull.surface;
    part.report = hull.report;
    part.warnings = hull.warnings;
    part.sha256 = hull.sha256;
    parted.fill(part);
    part.report.closed = false;
    return part;
}

}  // namespace tearline::hull
