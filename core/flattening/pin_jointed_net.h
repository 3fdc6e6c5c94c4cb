#pragma once
#include <array>
#include <functional>
#include <optional>
#include <vector>

#include "core/base/result.h"
#include "core/flattening/metric_chart.h"

namespace tearline::flattening {

class PinJointedNet;

struct NetOptions {
    double cell = 5.0;  ///< [mm] > 0: distance between the yarns that are followed
    /// Asked of a net before it is known to cover the surface: true, and it is given up.
    std::function<bool(const PinJointedNet&)> hopeless = {};
};

/// A place on the cloth: along the first warp and the first weft yarn.
struct ClothPoint {
    Vec2 at{0, 0};       ///< [mm] from the first yarns' crossing, warp along +x
    double shear = 0.0;  ///< [rad] quarter turn less the angle between warp and weft there
};

/// Woven cloth on a surface as a net of yarns that keep their length, pinned where they cross
/// (DEFINITIONS.md, Woven).
class PinJointedNet {
public:
    /// Follows the cloth from where it is first pressed down.
    ///
    /// The first warp and weft yarns run along geodesics; every other crossing lies one cell from
    /// its two neighbours nearer to the start. Beyond the surface's rim the cloth is followed over
    /// a surface that bends no further.
    /// @param chart  outlives the net
    /// @param start  [mm] in the chart's picture
    /// @param warp   direction of the warp there, in the picture
    /// @error no_safe_answer  the cloth shears shut before it covers every vertex of the chart; or
    ///                        it is hopeless
    [[nodiscard]] static Result<PinJointedNet> laid(const MetricChart& chart, const Vec2& start,
                                                    const Vec2& warp,
                                                    const NetOptions& options = {});

    /// The cloth over a place of the picture; nothing where the net does not reach.
    [[nodiscard]] std::optional<ClothPoint> cloth_at(const Vec2& place) const;

    /// The same, nothing where a net that reaches farther could have another answer.
    [[nodiscard]] std::optional<ClothPoint> settled_at(const Vec2& place) const;

    /// The crossing on the surface with the most shear, of those that a net that reaches farther
    /// has too; nothing where there is none.
    [[nodiscard]] std::optional<Vec2> most_sheared() const;

    /// The place of the picture under a point of the cloth: the way back of `cloth_at`.
    [[nodiscard]] std::optional<Vec2> place_of(const Vec2& cloth) const;

    /// Crossing of warp yarn j and weft yarn i, counted from the start; nothing where none is.
    [[nodiscard]] std::optional<Vec2> node(int i, int j) const;
    /// [rad] shear at a crossing, from the cells round it.
    [[nodiscard]] std::optional<double> shear(int i, int j) const;

    [[nodiscard]] double cell() const { return cell_; }
    [[nodiscard]] int reach() const { return reach_; }  ///< cells to either side of the start

private:
    /// How many cells a net reaches from its start: at most, and to either side along a yarn.
    struct Reach {
        int round = 0;
        std::array<int, 2> warp{0, 0}, weft{0, 0};  ///< forwards, backwards
    };
    PinJointedNet(const MetricChart& chart, double cell, const Reach& reach);

    void lay_first_yarns(const Vec2& start, const Vec2& along, const Vec2& across);
    void lay_quadrant(int sign_i, int sign_j);
    [[nodiscard]] std::optional<Vec2> crossing(const Vec2& a, const Vec2& b, const Vec2& c) const;
    void measure_shear();
    void index_cells();
    /// A cell over a place, and where in it.
    struct InCell {
        int i = 0, j = 0;
        Vec2 share{0, 0};
    };
    [[nodiscard]] std::optional<InCell> cell_over(const Vec2& place) const;
    [[nodiscard]] ClothPoint cloth_in(const InCell& cell) const;
    /// Whether all crossings round one are there.
    [[nodiscard]] bool is_settled(int i, int j) const;
    [[nodiscard]] std::size_t slot(int i, int j) const {
        return static_cast<std::size_t>(j + reach_) * static_cast<std::size_t>(2 * reach_ + 1) +
               static_cast<std::size_t>(i + reach_);
    }
    [[nodiscard]] bool has(int i, int j) const {
        return std::abs(i) <= reach_ && std::abs(j) <= reach_ && there_[slot(i, j)];
    }

    const MetricChart* chart_;
    double cell_;
    int reach_;
    std::array<int, 2> warp_, weft_;  ///< of Reach
    std::vector<Vec2> node_;
    std::vector<bool> there_;
    std::vector<double> shear_;
    std::vector<std::array<std::int32_t, 2>> cells_;  ///< lower corner of each whole cell
    surface::ChartGrid grid_;                         ///< of two triangles a cell
};

}  // namespace tearline::flattening
