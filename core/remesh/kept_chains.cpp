#include "core/remesh/kept_chains.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "core/base/tolerances.h"

namespace tearline::remesh {
namespace {

using Links = std::map<VertexId, std::vector<VertexId>>;

bool bends_sharply(const RemeshMesh& mesh, VertexId a, VertexId v, VertexId b) {
    const Vec3 in = mesh.vertex[v].position - mesh.vertex[a].position;
    const Vec3 out = mesh.vertex[b].position - mesh.vertex[v].position;
    const double cosine = std::cos(tolerance::crease_degrees * std::numbers::pi / 180.0);
    return in.dot(out) < cosine * in.norm() * out.norm();
}

}  // namespace

KeptChains::KeptChains(RemeshMesh& mesh, const PerId<TriangleId, std::array<bool, 3>>& marked) {
    Links links;
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3; ++i) {
            if (!marked[t][i] || mesh.triangle[t].neighbour[i] > t) continue;
            const VertexId a = mesh.triangle[t].vertex[i];
            const VertexId b = mesh.triangle[t].vertex[(i + 1) % 3];
            links[a].push_back(b);
            links[b].push_back(a);
        }
    Links left = links;
    const auto is_corner = [&](VertexId v) {
        const auto& l = links[v];
        return l.size() != 2 || bends_sharply(mesh, l[0], v, l[1]);
    };
    std::map<std::pair<VertexId, VertexId>, std::array<double, 3>> place;
    const auto follow = [&](VertexId start) {
        Chain chain;
        chain.vertex.push_back(start);
        VertexId v = start;
        do {
            const VertexId next = left[v].front();
            left[v].erase(left[v].begin());
            auto& back = left[next];
            back.erase(std::find(back.begin(), back.end(), v));
            const auto id = static_cast<double>(chains_.size());
            const auto at = static_cast<double>(chain.vertex.size());
            place[{v, next}] = {id, at - 1.0, at};
            place[{next, v}] = {id, at, at - 1.0};
            chain.vertex.push_back(next);
            v = next;
        } while (v != start && !is_corner(v) && !left[v].empty());
        for (const VertexId k : chain.vertex) chain.point.push_back(mesh.vertex[k].position);
        add_slopes(chain);
        chains_.push_back(std::move(chain));
    };
    for (const auto& [v, l] : links)
        if (is_corner(v))
            while (!left[v].empty()) follow(v);
    for (const auto& [v, l] : links)
        while (!left[v].empty()) follow(v);
    for (auto& t : mesh.triangle)
        for (int i = 0; i < 3; ++i) {
            const auto found = place.find({t.vertex[i], t.vertex[(i + 1) % 3]});
            if (found == place.end()) continue;
            const auto& [id, from, to] = found->second;
            t.kept[i].edge = static_cast<std::int32_t>(id);
            t.kept[i].from = from;
            t.kept[i].to = to;
        }
}

void KeptChains::add_slopes(Chain& chain) const {
    const std::size_t n = chain.point.size();
    chain.slope.resize(n);
    const auto parabola = [](const Vec3& a, const Vec3& b, const Vec3& c) {
        // Derivatives by arc length at a, b and c of the parabola through all three, by chords.
        const double h = (b - a).norm();
        const double k = (c - b).norm();
        const Vec3 first = (b - a) / h;
        const Vec3 second = (c - b) / k;
        const Vec3 bend = (second - first) / (h + k);
        return std::array<Vec3, 3>{first - h * bend, first + h * bend, second + k * bend};
    };
    const bool closed = n > 3 && chain.vertex.front() == chain.vertex.back();
    for (std::size_t i = 0; i < n; ++i) {
        Vec3 unit;
        if (n == 2)
            unit = (chain.point[1] - chain.point[0]).normalized();
        else if (closed && (i == 0 || i + 1 == n))
            unit = parabola(chain.point[n - 2], chain.point[0], chain.point[1])[1];
        else if (i == 0)
            unit = parabola(chain.point[0], chain.point[1], chain.point[2])[0];
        else if (i + 1 == n)
            unit = parabola(chain.point[n - 3], chain.point[n - 2], chain.point[n - 1])[2];
        else
            unit = parabola(chain.point[i - 1], chain.point[i], chain.point[i + 1])[1];
        chain.slope[i] = unit;
    }
}

Vec3 KeptChains::slope_at(std::int32_t chain, double vertex_parameter, bool leaving) const {
    const Chain& c = chains_[chain];
    const auto i = static_cast<std::size_t>(vertex_parameter);
    const std::size_t j = leaving ? i + 1 : i - 1;
    const double span = (c.point[j] - c.point[i]).norm();
    return span * c.slope[i];
}

Vec3 KeptChains::at(std::int32_t chain, double parameter) const {
    const Chain& c = chains_[chain];
    const auto last = c.point.size() - 2;
    const auto i = std::min(static_cast<std::size_t>(std::max(parameter, 0.0)), last);
    const double s = parameter - static_cast<double>(i);
    const double r = 1.0 - s;
    const double h = (c.point[i + 1] - c.point[i]).norm();
    return c.point[i] * (r * r * (1.0 + 2.0 * s)) + c.point[i + 1] * (s * s * (3.0 - 2.0 * s)) +
           h * (c.slope[i] * (s * r * r) - c.slope[i + 1] * (s * s * r));
}

}  // namespace tearline::remesh
