#include "core/job_sheet/colour_scale.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace tearline::job_sheet {

namespace {

template <std::size_t count>
Vec3 between(const std::array<std::array<double, 3>, count>& anchors, double share) {
    const double at = std::clamp(share, 0.0, 1.0) * (count - 1);
    const std::size_t i = std::min(static_cast<std::size_t>(at), count - 2);
    const double t = at - static_cast<double>(i);
    const Vec3 a(anchors[i].data()), b(anchors[i + 1].data());
    return a + t * (b - a);
}

}  // namespace

std::string colour(const Vec3& rgb) {
    std::string out = "#";
    for (int i = 0; i < 3; ++i) {
        const auto level = static_cast<unsigned>(std::lround(std::clamp(rgb[i], 0.0, 255.0)));
        out += "0123456789abcdef"[level / 16];
        out += "0123456789abcdef"[level % 16];
    }
    return out;
}

std::string strain_colour(double share) {
    static constexpr std::array<std::array<double, 3>, 9> anchors = {{{250, 243, 214},
                                                                      {205, 217, 199},
                                                                      {161, 192, 183},
                                                                      {116, 167, 167},
                                                                      {85, 139, 148},
                                                                      {67, 110, 127},
                                                                      {50, 81, 107},
                                                                      {34, 54, 86},
                                                                      {20, 28, 66}}};
    return colour(between(anchors, share));
}

std::string ply_colour(double share) {
    static constexpr std::array<std::array<double, 3>, 3> anchors = {
        {{222, 235, 242}, {120, 171, 199}, {24, 92, 134}}};
    return colour(between(anchors, share));
}

}  // namespace tearline::job_sheet
