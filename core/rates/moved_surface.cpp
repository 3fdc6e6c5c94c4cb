#include "core/rates/moved_surface.h"

namespace tearline::rates {

std::vector<MovedSurface::Move> MovedSurface::moves(const BasePlace& place, double height) const {
    const Vec3 measured = place.at - above_ * place.normal;
    const Vec3 out = influence_.out(measured);
    const double square = out.dot(place.normal);
    std::vector<Move> all;
    for (const auto& term : influence_.terms(measured)) {
        const Vec3 turn = -square * (term.slope - term.slope.dot(place.normal) * place.normal);
        all.push_back({term.pole, term.weight * out + (above_ + height) * turn, turn});
    }
    return all;
}

Eigen::RowVectorXd MovedSurface::stretch(std::span<const BasePlace> way) const {
    Eigen::RowVectorXd longer = Eigen::RowVectorXd::Zero(poles());
    for (std::size_t i = 0; i < way.size(); ++i) {
        Vec3 pull = Vec3::Zero();
        if (i > 0) pull += (way[i].at - way[i - 1].at).normalized();
        if (i + 1 < way.size()) pull -= (way[i + 1].at - way[i].at).normalized();
        for (const Move& move : moves(way[i], 0.0)) longer[move.pole] += pull.dot(move.by);
    }
    return longer;
}

Eigen::Matrix3Xd MovedSurface::move(const BasePlace& place) const {
    Eigen::Matrix3Xd all = Eigen::Matrix3Xd::Zero(3, poles());
    for (const Move& move : moves(place, 0.0)) all.col(move.pole) += move.by;
    return all;
}

Eigen::Matrix3Xd MovedSurface::slide(const BasePlace& place) const {
    const Eigen::Matrix3Xd all = move(place);
    return all - place.normal * (place.normal.transpose() * all);
}

}  // namespace tearline::rates
