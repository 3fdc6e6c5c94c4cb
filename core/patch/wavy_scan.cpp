#include "core/patch/wavy_scan.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

namespace tearline::patch {

namespace {

constexpr double facets_wide = 12.0;    // [facets] radius of a place ...
constexpr double most_wide = 150.0;     // [mm] ... and no larger: coarser meshes are no scan
constexpr double least_wide = 40.0;     // [mm] ... no smaller than what a hull is fair over
constexpr double most_turn = 40.0;      // [deg] a place whose normals turn more is looked at nearer
constexpr double nearer = 0.7;          // [-]
constexpr Eigen::Index terms = 15;      // of a polynomial of fourth order in two directions ...
constexpr Eigen::Index bend_terms = 8;  // ... and more across a bend, fifth order to twelfth
constexpr std::size_t fewest = 60;      // vertices of a place
constexpr std::size_t most = 500;       // more are thinned
constexpr std::size_t places = 60;      // looked at ...
constexpr std::size_t fewest_places = 12;  // ... and how many must be wide enough to tell
constexpr double fair_share = 0.25;        // of the places: a model's are as fair as this or better
constexpr double least_height = 0.002;     // [-] of a place's radius: bends of a model leave less

/// Columns of second order among those terms: y^b for each x^a in turn, a + b up to four.
constexpr Eigen::Index yy = 2, xy = 6, xx = 9;

struct Place {
    Vec3 middle{0, 0, 0};
    double spread = 0.0;
    double radius = 0.0;
};

/// Normals of vertices, not of unit length.
PerId<VertexId, Vec3> normals_of(const remesh::RemeshMesh& mesh) {
    PerId<VertexId, Vec3> normal(mesh.vertex.size(), Vec3(0, 0, 0));
    for (const TriangleId t : mesh.triangle.ids())
        for (const VertexId v : mesh.triangle[t].vertex) normal[v] += mesh.area_vector(t);
    return normal;
}

double middle_edge(const remesh::RemeshMesh& mesh) {
    std::vector<double> lengths;
    for (const TriangleId t : mesh.triangle.ids())
        for (int i = 0; i < 3; ++i) lengths.push_back(mesh.length2({t, i}));
    const auto middle = lengths.begin() + static_cast<std::ptrdiff_t>(lengths.size() / 2);
    std::nth_element(lengths.begin(), middle, lengths.end());
    return std::sqrt(*middle);
}

/// Vertices about one, reached along edges without leaving a ball.
class Neighbourhoods {
public:
    explicit Neighbourhoods(const remesh::RemeshMesh& mesh)
        : mesh_(mesh), seen_(mesh.vertex.size(), -1) {}

    std::vector<VertexId> within(VertexId from, double radius) {
        const Vec3 middle = mesh_.vertex[from].position;
        std::vector<VertexId> all{from};
        seen_[from] = ++round_;
        for (std::size_t next = 0; next < all.size(); ++next) {
            mesh_.ring(all[next], ring_);
            for (const remesh::Corner& corner : ring_)
                for (const VertexId v : mesh_.triangle[corner.triangle].vertex) {
                    if (seen_[v] == round_) continue;
                    seen_[v] = round_;
                    if ((mesh_.vertex[v].position - middle).squaredNorm() <= radius * radius)
                        all.push_back(v);
                }
        }
        return all;
    }

private:
    const remesh::RemeshMesh& mesh_;
    PerId<VertexId, int> seen_;
    std::vector<remesh::Corner> ring_;
    int round_ = 0;
};

/// How far vertices scatter about the polynomial through them; none where they turn too far.
std::optional<double> spread_about(const remesh::RemeshMesh& mesh,
                                   const PerId<VertexId, Vec3>& normal,
                                   const std::vector<VertexId>& all, const Vec3& middle,
                                   double radius) {
    Vec3 up(0, 0, 0);
    for (const VertexId v : all) up += normal[v];
    if (!(up.norm() > 0.0)) return std::nullopt;
    up.normalize();
    const double least_cosine = std::cos(most_turn * std::numbers::pi / 180.0);
    for (const VertexId v : all)
        if (normal[v].dot(up) < least_cosine * normal[v].norm()) return std::nullopt;
    const Vec3 right = up.unitOrthogonal(), ahead = up.cross(right);
    const std::size_t stride = (all.size() + most - 1) / most;
    const auto rows = static_cast<Eigen::Index>((all.size() + stride - 1) / stride);
    Eigen::MatrixXd powers(rows, terms + bend_terms);
    Eigen::MatrixX2d seen(rows, 2);
    Eigen::VectorXd heights(rows);
    for (Eigen::Index row = 0; row < rows; ++row) {
        const Vec3 off =
            (mesh.vertex[all[static_cast<std::size_t>(row) * stride]].position - middle) / radius;
        const double x = off.dot(right), y = off.dot(ahead);
        seen.row(row) << x, y;
        Eigen::Index column = 0;
        for (int a = 0; a <= 4; ++a)
            for (int b = 0; a + b <= 4; ++b)
                powers(row, column++) = std::pow(x, a) * std::pow(y, b);
        heights[row] = radius * off.dot(up);
    }
    const auto smooth = powers.leftCols(terms);
    const Eigen::VectorXd plain = smooth.householderQr().solve(heights);
    Eigen::Matrix2d bend;
    bend << 2.0 * plain[xx], plain[xy], plain[xy], 2.0 * plain[yy];
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> ways(bend);
    const int most_bent = std::abs(ways.eigenvalues()[0]) > std::abs(ways.eigenvalues()[1]) ? 0 : 1;
    const Eigen::VectorXd across = seen * ways.eigenvectors().col(most_bent);
    for (int k = 0; k < bend_terms; ++k)
        powers.col(terms + k) = across.array().pow(5.0 + k).matrix();
    const Eigen::VectorXd rest = heights - powers * powers.colPivHouseholderQr().solve(heights);
    return std::sqrt(rest.squaredNorm() / static_cast<double>(rows - powers.cols()));
}

}  // namespace

std::optional<WavyScan> find_wavy_scan(const remesh::RemeshMesh& mesh, const Vec3& damage) {
    if (mesh.vertex.size() < fewest * 2) return std::nullopt;
    const double edge = middle_edge(mesh);
    const double widest = std::clamp(facets_wide * edge, least_wide, most_wide);
    const auto normal = normals_of(mesh);
    Neighbourhoods neighbourhoods(mesh);
    std::vector<Place> found;
    const std::size_t stride = std::max<std::size_t>(1, mesh.vertex.size() / places);
    for (std::size_t i = stride / 2; i < mesh.vertex.size(); i += stride) {
        const VertexId from(i);
        const Vec3 middle = mesh.vertex[from].position;
        for (double radius = widest; radius > 3.0 * edge; radius *= nearer) {
            const auto all = neighbourhoods.within(from, radius);
            if (all.size() < fewest) break;
            const auto spread = spread_about(mesh, normal, all, middle, radius);
            if (!spread) continue;
            found.push_back({middle, *spread, radius});
            break;
        }
    }
    if (found.size() < fewest_places) return std::nullopt;
    const auto fair =
        found.begin() + static_cast<std::ptrdiff_t>(fair_share * static_cast<double>(found.size()));
    std::nth_element(found.begin(), fair, found.end(), [](const Place& a, const Place& b) {
        return a.spread / a.radius < b.spread / b.radius;
    });
    const double height = fair->spread;
    if (!(height > least_height * fair->radius)) return std::nullopt;
    const auto nearest =
        std::min_element(found.begin(), found.end(), [&](const Place& a, const Place& b) {
            return (a.middle - damage).squaredNorm() < (b.middle - damage).squaredNorm();
        });
    return WavyScan{nearest->middle, height, fair->radius};
}

}  // namespace tearline::patch
