#include "core/hull/table_influence.h"

#include <utility>

namespace tearline::hull {

TableInfluence::TableInfluence(SplineBasis rows, SplineBasis columns, const FairTable& table,
                               const Axes& axes)
    : rows_(std::move(rows)),
      columns_(std::move(columns)),
      response_(rows_, columns_, table.smoothing),
      axes_(axes) {
    for (const Suspicion& s : table.suspicious)
        left_out_.push_back(s.row * columns_.size() + s.column);
}

std::vector<TableInfluence::Term> TableInfluence::terms(const Vec3& place) const {
    const double u = place.dot(axes_.rows), v = place.dot(axes_.columns);
    const Eigen::VectorXd r = rows_.at(u), c = columns_.at(v);
    const Eigen::VectorXd dr = rows_.at(u, 1), dc = columns_.at(v, 1);
    std::vector<Term> all;
    for (Eigen::Index i = 0; i < r.size(); ++i) {
        if (r[i] == 0.0 && dr[i] == 0.0) continue;
        for (Eigen::Index j = 0; j < c.size(); ++j) {
            if (c[j] == 0.0 && dc[j] == 0.0) continue;
            all.push_back({i * columns_.size() + j, r[i] * c[j],
                           dr[i] * c[j] * axes_.rows + r[i] * dc[j] * axes_.columns});
        }
    }
    return all;
}

Vec3 TableInfluence::out(const Vec3& place) const {
    return axes_.two_sided && place.dot(axes_.out) < 0.0 ? Vec3(-axes_.out) : axes_.out;
}

Eigen::MatrixXd TableInfluence::per_figure(const Eigen::MatrixXd& per_pole) const {
    using ByRow = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    Eigen::MatrixXd all(per_pole.rows(), per_pole.cols());
    for (Eigen::Index q = 0; q < per_pole.rows(); ++q) {
        const Eigen::RowVectorXd row = per_pole.row(q);
        const ByRow figures = response_.per_figure(
            Eigen::Map<const ByRow>(row.data(), rows_.size(), columns_.size()));
        all.row(q) = Eigen::Map<const Eigen::RowVectorXd>(figures.data(), figures.size());
    }
    for (const Eigen::Index figure : left_out_) all.col(figure).setZero();
    return all;
}

}  // namespace tearline::hull
