#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/scan/survey.h"

namespace tearline::scan {

namespace {

constexpr double width = 1000.0, key_height = 120.0, margin = 20.0;  // [px]

/// White where a point lies on the surface, red where outside it, blue where inside.
std::string colour(double share) {
    const double t = std::clamp(share, -1.0, 1.0);
    const auto fade = [&](double full) {
        return std::to_string(static_cast<int>(std::lround(245.0 + (full - 245.0) * std::abs(t))));
    };
    return t > 0.0 ? "rgb(" + fade(190) + "," + fade(40) + "," + fade(30) + ")"
                   : "rgb(" + fade(30) + "," + fade(80) + "," + fade(190) + ")";
}

std::string rect(double x, double y, double w, double h, const std::string& fill) {
    return "<rect x=\"" + fixed(x, 1) + "\" y=\"" + fixed(y, 1) + "\" width=\"" + fixed(w, 1) +
           "\" height=\"" + fixed(h, 1) + "\" fill=\"" + fill + "\"/>\n";
}

std::string words(double x, double y, const std::string& text) {
    return "<text x=\"" + fixed(x, 1) + "\" y=\"" + fixed(y, 1) +
           "\" font-family=\"sans-serif\" font-size=\"16\">" + text + "</text>\n";
}

/// The two directions in which the scan spreads most as columns, to the right and up as it is seen
/// from outside: never its mirror image.
Eigen::Matrix<double, 3, 2> widest(const Survey& survey, Vec3& middle) {
    middle = Vec3(0, 0, 0);
    for (const auto& [p, off] : survey.misfit)
        middle += p / static_cast<double>(survey.misfit.size());
    Eigen::Matrix3d scatter = Eigen::Matrix3d::Zero();
    for (const auto& [p, off] : survey.misfit) scatter += (p - middle) * (p - middle).transpose();
    const Eigen::Matrix3d axes =
        Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(scatter).eigenvectors();
    const Vec3 least = axes.col(0);
    const Vec3 towards = least.dot(survey.outward) < 0.0 ? Vec3(-least) : least;
    // Up is where the scan's own z goes up, or else x or y, whichever it goes along.
    Vec3 up = axes.col(1);
    constexpr double upright = 0.3;
    Eigen::Index along = 2;
    if (std::abs(up.z()) < upright) up.cwiseAbs().maxCoeff(&along);
    if (up[along] < 0.0) up = -up;
    Eigen::Matrix<double, 3, 2> both;
    both << up.cross(towards), up;
    return both;
}

std::string key_of_colours(double full, double y) {
    std::string out;
    constexpr int steps = 40;
    for (int i = 0; i < steps; ++i)
        out += rect(margin + 10.0 * i, y, 10.5, 18.0, colour(2.0 * (i + 0.5) / steps - 1.0));
    const std::string most = fixed(full, full < 1.0 ? 2 : 1) + " mm";
    return out + words(margin, y + 38.0, most + " or more inside") +
           words(margin + 205.0, y + 38.0, "fair") +
           words(margin + 300.0, y + 38.0, most + " or more outside the fair surface");
}

}  // namespace

std::string survey_picture(const Survey& survey) {
    Vec3 middle;
    const auto axes = widest(survey, middle);
    Vec2 low(0, 0), high(0, 0);
    std::vector<Vec2> places;
    for (const auto& [p, off] : survey.misfit) {
        places.emplace_back(axes.transpose() * (p - middle));
        low = low.cwiseMin(places.back());
        high = high.cwiseMax(places.back());
    }
    constexpr int columns = 200;
    constexpr double filled = 2.0;  // spacings: hardly a cell between points stays empty
    const double breadth = std::max((high - low).maxCoeff(), 1.0);
    const double cell = std::max(breadth / columns, filled * survey.spacing);
    std::map<std::pair<int, int>, std::pair<double, int>> mean;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const Vec2 at = (places[i] - low) / cell;
        auto& [sum, count] =
            mean[{static_cast<int>(std::floor(at.y())), static_cast<int>(std::floor(at.x()))}];
        sum += survey.misfit[i].second;
        ++count;
    }
    const double full = 3.0 * std::max(survey.noise.spread, 0.02);
    const double scale = (width - 2.0 * margin) / breadth;
    const double height = (high - low).y() * scale + 2.0 * margin + key_height;
    std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + fixed(width, 0) +
                      "\" height=\"" + fixed(height, 0) + "\" viewBox=\"0 0 " + fixed(width, 0) +
                      " " + fixed(height, 0) +
                      "\">\n<title>How far the scan lies off its fair "
                      "surface</title>\n" +
                      rect(0, 0, width, height, "#ffffff");
    for (const auto& [at, sum] : mean)
        svg += rect(margin + at.second * cell * scale,
                    margin + ((high - low).y() - (at.first + 1) * cell) * scale, cell * scale + 0.3,
                    cell * scale + 0.3, colour(sum.first / sum.second / full));
    svg += key_of_colours(full, height - key_height + 10.0);
    const auto corner = [&](double x, double y) {
        return place_text(middle + axes * Vec2(x, y)) + " mm";
    };
    svg += words(margin, height - 44.0,
                 "Seen from outside. Lower left corner of the scan " + corner(low.x(), low.y()));
    svg += words(
        margin, height - 22.0,
        "lower right " + corner(high.x(), low.y()) + ", upper left " + corner(low.x(), high.y()));
    return svg + "</svg>\n";
}

}  // namespace tearline::scan
