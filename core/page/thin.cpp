#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <unordered_map>
#include <utility>

#include "core/page/shape.h"
#include "core/page/tolerances.h"

namespace tearline::page {

namespace {

/// Numbers the cells of a grid in the order of their first use.
class Cells {
public:
    Cells(const std::vector<Vec3>& points, double width) : width_(width) {
        low_ = points.front();
        for (const Vec3& p : points) low_ = low_.cwiseMin(p);
        number_.reserve(points.size() / 4);
        of_point_.reserve(points.size());
        for (const Vec3& p : points) {
            const auto [found, fresh] =
                number_.try_emplace(key(p), static_cast<std::int32_t>(first_.size()));
            if (fresh) first_.push_back(static_cast<std::int32_t>(of_point_.size()));
            of_point_.push_back(found->second);
        }
    }
    [[nodiscard]] std::int32_t of(std::int32_t point) const {
        return of_point_[static_cast<std::size_t>(point)];
    }
    [[nodiscard]] std::size_t size() const { return first_.size(); }
    /// Per cell the first point in it.
    [[nodiscard]] const std::vector<std::int32_t>& first() const { return first_; }

private:
    [[nodiscard]] std::uint64_t key(const Vec3& p) const {
        std::uint64_t all = 0;
        for (int k = 0; k < 3; ++k)
            all = all << 21U | static_cast<std::uint64_t>((p[k] - low_[k]) / width_);
        return all;
    }

    double width_;  ///< [mm]
    Vec3 low_{0, 0, 0};
    std::unordered_map<std::uint64_t, std::int32_t> number_;
    std::vector<std::int32_t> of_point_, first_;
};

/// The planes about a cell's points: sum of a (n n^T) and a (n n^T) p, a the area squared.
struct Quadric {
    Eigen::Matrix3d matrix = Eigen::Matrix3d::Zero();
    Vec3 right{0, 0, 0};
    Vec3 mean{0, 0, 0};
    int members = 0;

    /// Where the planes meet best; along what they leave open, the mean of the points.
    [[nodiscard]] Vec3 place(double reach) const {
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> solved(matrix);
        const Vec3 off = right - matrix * mean;
        Vec3 at = mean;
        for (int k = 0; k < 3; ++k)
            if (const double value = solved.eigenvalues()[k];
                value > tolerance::flat_cell * solved.eigenvalues()[2] && value > 0.0)
                at += solved.eigenvectors().col(k).dot(off) / value * solved.eigenvectors().col(k);
        return (at - mean).norm() <= reach ? at : mean;
    }
};

Shape clustered(const Shape& shape, double width) {
    const Cells cells(shape.vertices, width);
    std::vector<Quadric> quadrics(cells.size());
    // About the cell's own first point: far from the origin a sum of squares would lose its digits.
    const auto local = [&](std::int32_t cell, const Vec3& p) -> Vec3 {
        return p - shape.vertices[static_cast<std::size_t>(
                       cells.first()[static_cast<std::size_t>(cell)])];
    };
    for (std::size_t v = 0; v < shape.vertices.size(); ++v) {
        const std::int32_t cell = cells.of(static_cast<std::int32_t>(v));
        Quadric& quadric = quadrics[static_cast<std::size_t>(cell)];
        quadric.mean += local(cell, shape.vertices[v]);
        ++quadric.members;
    }
    for (Quadric& quadric : quadrics) quadric.mean /= quadric.members;
    Shape out;
    for (const auto& t : shape.triangles) {
        const Vec3& a = shape.vertices[static_cast<std::size_t>(t[0])];
        const Vec3 n = (shape.vertices[static_cast<std::size_t>(t[1])] - a)
                           .cross(shape.vertices[static_cast<std::size_t>(t[2])] - a);
        std::array<std::int32_t, 3> kept{cells.of(t[0]), cells.of(t[1]), cells.of(t[2])};
        for (const std::int32_t cell : kept) {
            Quadric& quadric = quadrics[static_cast<std::size_t>(cell)];
            quadric.matrix += n * n.transpose();
            quadric.right += n * n.dot(local(cell, a));
        }
        if (kept[0] == kept[1] || kept[1] == kept[2] || kept[2] == kept[0]) continue;
        std::rotate(kept.begin(), std::min_element(kept.begin(), kept.end()), kept.end());
        out.triangles.push_back(kept);
    }
    std::sort(out.triangles.begin(), out.triangles.end());
    out.triangles.erase(std::unique(out.triangles.begin(), out.triangles.end()),
                        out.triangles.end());
    for (std::size_t cell = 0; cell < quadrics.size(); ++cell)
        out.vertices.push_back(shape.vertices[static_cast<std::size_t>(cells.first()[cell])] +
                               quadrics[cell].place(width));
    return out;
}

Shape fewer_points(const Shape& shape, double width) {
    const Cells cells(shape.vertices, width);
    Shape out;
    for (const std::int32_t point : cells.first())
        out.vertices.push_back(shape.vertices[static_cast<std::size_t>(point)]);
    return out;
}

double area_of(const Shape& shape) {
    double area = 0.0;
    for (const auto& t : shape.triangles) {
        const Vec3& a = shape.vertices[static_cast<std::size_t>(t[0])];
        area += 0.5 * (shape.vertices[static_cast<std::size_t>(t[1])] - a)
                          .cross(shape.vertices[static_cast<std::size_t>(t[2])] - a)
                          .norm();
    }
    return area;
}

double diagonal_of(const Shape& shape) {
    Vec3 low = shape.vertices.front(), high = low;
    for (const Vec3& p : shape.vertices) low = low.cwiseMin(p), high = high.cwiseMax(p);
    return (high - low).norm();
}

}  // namespace

Shape thinned(const Shape& shape, std::size_t most) {
    const bool points = shape.triangles.empty();
    if ((points ? shape.vertices.size() : shape.triangles.size()) <= most) return shape;
    const double count = static_cast<double>(most), diagonal = diagonal_of(shape);
    // A surface of area A meets about 1.5 A / width^2 cells, with two triangles for each; the
    // grid has no more than two million cells a side.
    const double start =
        points ? diagonal / std::sqrt(2.0 * count) : std::sqrt(3.0 * area_of(shape) / count);
    for (double width = std::max(start, tolerance::least_cell * diagonal);; width *= 1.15) {
        Shape out = points ? fewer_points(shape, width) : clustered(shape, width);
        if ((points ? out.vertices.size() : out.triangles.size()) <= most) return out;
    }
}

}  // namespace tearline::page
