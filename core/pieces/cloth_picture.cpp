#include "core/pieces/cloth_picture.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <utility>
#include <vector>

#include "core/flattening/pin_jointed_net.h"
#include "core/pieces/chart_map.h"
#include "core/pieces/flat_outline.h"
#include "core/pieces/lay_membrane.h"
#include "core/pieces/piece_frame.h"
#include "core/pieces/seams.h"
#include "core/pieces/strain_measures.h"
#include "core/pieces/tolerances.h"
#include "core/plane/box.h"

namespace tearline::pieces {

namespace {

double yarn_radians(const ClothLaying& laying) {
    return (laying.axis_degrees + (laying.biaxial ? 45.0 : 0.0)) * std::numbers::pi / 180.0;
}

/// Direction of the yarns that run along the cloth's x, in the membrane picture.
Vec2 yarn_direction(const Piece& membrane, const flattening::Metric& g, const surface::Location& at,
                    const ClothLaying& laying) {
    const Vec2 x = flat_direction(membrane, at, laying.x, laying.normal);
    const Vec2 along = x / g.length(x);
    const Vec2 square = turned_left(g.times(along));
    const Vec2 across = square / g.length(square);
    const double turn = yarn_radians(laying);
    return std::cos(turn) * along + std::sin(turn) * across;
}

}  // namespace

struct ClothPicture::State {
    explicit State(Piece piece)
        : membrane(std::move(piece)), chart(membrane.lay, membrane.flat), map(membrane) {}

    using Net = flattening::PinJointedNet;

    /// @param hopeless  of flattening::NetOptions
    [[nodiscard]] Result<Net> net(const ClothLaying& laying, double cell,
                                  std::function<bool(const Net&)> hopeless = {}) const {
        const surface::Location start = map.nearest(laying.press_first);
        const Vec2 at = map.flat(start);
        auto laid = Net::laid(chart, at, yarn_direction(membrane, chart.metric(at), start, laying),
                              {.cell = cell, .hopeless = std::move(hopeless)});
        if (!laid) laid.error().piece = membrane.id;
        return laid;
    }

    [[nodiscard]] Vec2 middle_of(std::size_t triangle) const {
        const auto& v = membrane.lay.triangle[triangle];
        return (membrane.flat[v[0]] + membrane.flat[v[1]] + membrane.flat[v[2]]) / 3.0;
    }

    [[nodiscard]] static double degrees_of(const flattening::ClothPoint& point) {
        return std::abs(point.shear) * 180.0 / std::numbers::pi;
    }

    /// [deg] shear in the middle of each triangle; nothing where the cloth misses one, though not
    /// its corners: about a sharp edge cells may span it.
    [[nodiscard]] std::optional<std::vector<double>> shears(const Net& net) const {
        std::vector<double> out;
        out.reserve(membrane.lay.triangle.size());
        for (std::size_t t = 0; t < membrane.lay.triangle.size(); ++t) {
            const auto middle = net.cloth_at(middle_of(t));
            if (!middle) return std::nullopt;
            out.push_back(degrees_of(*middle));
        }
        return out;
    }

    [[nodiscard]] DiscMean largest(const std::vector<double>& shears) const {
        return largest_disc_mean(discs, shears, tolerance::strain_disc);
    }

    /// Whether the largest shear reaches a limit [deg], as far as one place shows it: that of most
    /// shear among the crossings.
    [[nodiscard]] bool reaches(const Net& net, double limit) const {
        const auto worst = net.most_sheared();
        if (!worst) return false;
        const auto mean = disc_mean(
            discs,
            [&](std::int32_t t) -> std::optional<double> {
                const auto middle = net.settled_at(middle_of(static_cast<std::size_t>(t)));
                if (!middle) return std::nullopt;
                return degrees_of(*middle);
            },
            *chart.triangle_at(*worst), tolerance::strain_disc);
        // The largest of all is found to within same_mean.
        return mean && *mean >= limit + tolerance::same_mean;
    }

    Piece membrane;
    flattening::MetricChart chart;
    ChartMap map;                                 ///< of `membrane`
    DiscMesh discs{membrane.lay, membrane.flat};  ///< of `membrane`
};

struct ClothPicture::Trial {
    ClothLaying laying;
    double cell;  ///< [mm]
    State::Net net;
    std::vector<double> shears;  ///< [deg] a triangle
    DiscMean most;
};

ClothPicture::ClothPicture(std::unique_ptr<State> state) : state_(std::move(state)) {}
ClothPicture::ClothPicture(ClothPicture&&) noexcept = default;
ClothPicture& ClothPicture::operator=(ClothPicture&&) noexcept = default;
ClothPicture::~ClothPicture() = default;

Result<ClothPicture> ClothPicture::of(const plies::LaySurface& lay, std::string id) {
    auto membrane = lay_membrane(lay, std::move(id));
    if (!membrane) return tl::unexpected(membrane.error());
    if (const auto fits = check_overlap(membrane->piece); !fits)
        return tl::unexpected(fits.error());
    return ClothPicture(std::make_unique<State>(std::move(membrane->piece)));
}

const Piece& ClothPicture::membrane() const {
    return state_->membrane;
}

bool ClothPicture::covers(const Vec2& chart) const {
    return state_->map.locate(chart).has_value();
}

double ClothPicture::cell() const {
    const double usual = flattening::NetOptions{}.cell;
    const auto [low, high] = plane::box_round(state_->membrane.flat);
    const double half = 0.5 * (high - low).maxCoeff();
    const double even =
        tolerance::even_metric / std::max(state_->chart.steepest(), tolerance::least_slope);
    return std::max(usual, std::min(half / tolerance::net_cells, even));
}

std::shared_ptr<const ClothPicture::Trial> ClothPicture::trial(double limit,
                                                               const ClothLaying& laying,
                                                               double cell) const {
    auto net =
        state_->net(laying, cell, [&](const auto& begun) { return state_->reaches(begun, limit); });
    if (!net) return nullptr;
    auto shears = state_->shears(*net);
    if (!shears) return nullptr;
    const DiscMean most = state_->largest(*shears);
    if (!(most.value < limit)) return nullptr;
    return std::make_shared<const Trial>(
        Trial{laying, cell, *std::move(net), *std::move(shears), most});
}

std::optional<double> ClothPicture::shear_under(double limit, const ClothLaying& laying,
                                                double cell) const {
    const auto under = trial(limit, laying, cell);
    return under ? std::optional(under->most.value) : std::nullopt;
}

std::optional<double> ClothPicture::shear(const ClothLaying& laying, double cell) const {
    return shear_under(std::numeric_limits<double>::infinity(), laying, cell);
}

Result<Piece> ClothPicture::laid(const ClothLaying& laying, double cell) const {
    auto net = state_->net(laying, cell);
    if (!net) return tl::unexpected(net.error());
    auto shears = state_->shears(*net);
    if (!shears)
        return refused(state_->membrane, "the cloth does not lie down at a sharp edge in it");
    const DiscMean most = state_->largest(*shears);
    return piece_of({laying, cell, *std::move(net), *std::move(shears), most});
}

Result<Piece> ClothPicture::piece_of(const Trial& trial) const {
    Piece piece = state_->membrane;
    const Eigen::Rotation2Dd to_x(yarn_radians(trial.laying));
    for (Vec2& p : piece.flat) p = to_x * trial.net.cloth_at(p)->at;
    piece.stretch.clear();
    piece.warp_degrees = trial.laying.axis_degrees;
    piece.press_first = trial.laying.press_first;
    piece.shear_degrees = trial.shears;
    piece.shear_max = trial.most.value;
    piece.worst_triangle = trial.most.triangle;
    if (const auto fits = check_overlap(piece); !fits) return tl::unexpected(fits.error());
    return piece;
}

namespace {

/// The best of what was tried so far.
class LeastShear {
    using Trial = ClothPicture::Trial;

public:
    LeastShear(const ClothPicture& picture, const ClothLaying& asked, double cell)
        : picture_(picture),
          asked_(asked),
          cell_(cell),
          best_(asked),
          laid_(trial_of(asked)),
          asked_for_(shear_of(laid_)),
          least_(asked_for_) {}

    void offer(const ClothLaying& laying) {
        if (same(laying, best_) || !picture_.covers(laying.press_first)) return;
        auto under = picture_.trial(least_, laying, cell_);
        if (!under) return;
        least_ = shear_of(under);
        best_ = laying;
        laid_ = std::move(under);
    }
    /// From now on by nets of another cell.
    void measure_by(double cell) {
        cell_ = cell;
        laid_ = trial_of(best_);
        least_ = shear_of(laid_);
        asked_for_ = same(best_, asked_) ? least_ : shear_of(trial_of(asked_));
    }
    /// Whether the best saves enough for what was asked for to be left.
    [[nodiscard]] bool gains() const { return least_ < asked_for_ - tolerance::shear_gain; }
    [[nodiscard]] const ClothLaying& best() const { return best_; }
    [[nodiscard]] double least() const { return least_; }
    /// That laying by a net of that cell; null where it is not the last one known.
    [[nodiscard]] std::shared_ptr<const Trial> laid(const ClothLaying& laying, double cell) const {
        return laid_ && same(laid_->laying, laying) && laid_->cell == cell ? laid_ : nullptr;
    }

private:
    /// Whether two of one search are laid alike.
    static bool same(const ClothLaying& one, const ClothLaying& other) {
        return one.press_first == other.press_first && one.axis_degrees == other.axis_degrees;
    }
    [[nodiscard]] std::shared_ptr<const Trial> trial_of(const ClothLaying& laying) const {
        return picture_.trial(std::numeric_limits<double>::infinity(), laying, cell_);
    }
    [[nodiscard]] static double shear_of(const std::shared_ptr<const Trial>& trial) {
        return trial ? trial->most.value : std::numeric_limits<double>::infinity();
    }

    const ClothPicture& picture_;
    ClothLaying asked_;
    double cell_;
    ClothLaying best_;
    std::shared_ptr<const Trial> laid_;  ///< of the best; null where the cloth shears shut
    double asked_for_, least_;           ///< [deg]
};

/// Looks for the least shear among starts and axes: over all of them wide apart, then closer and
/// closer about the best.
class LayingSearch {
public:
    LayingSearch(const ClothPicture& picture, const ClothLaying& asked, const ClothSearch& search)
        : asked_(asked), search_(search), found_(picture, asked, search.cell) {
        const Extent extent =
            extent_of(flat_outline(picture.membrane().lay, picture.membrane().chart));
        const Vec2 along(std::cos(extent.angle), std::sin(extent.angle));
        centre_ = extent.centre;
        u_ = extent.half_long * along;
        v_ = extent.half_wide * turned_left(along);
    }

    /// The net that a laying was measured by, if it has that cell; or null.
    [[nodiscard]] std::shared_ptr<const ClothPicture::Trial> laid(const ClothLaying& laying,
                                                                  double cell) const {
        return found_.laid(laying, cell);
    }

    ClothLaying run() {
        // Nothing to gain, and nothing to spend time on, where the cloth hardly shears.
        if (found_.least() < tolerance::shear_gain) return asked_;
        if (search_.free_start) try_starts(centre_, 0.3, 2);
        if (search_.axis_free > 0.0) try_turns(asked_.axis_degrees, 0.25 * search_.axis_free, 4);
        if (found_.least() > tolerance::laying_hope * search_.limit) return found_.best();
        for (const double share : {0.15, 0.075, 0.04}) {
            // What is left to gain is less than what wide cells hide.
            if (share < 0.05) found_.measure_by(0.5 * search_.cell);
            if (search_.free_start) try_starts(found_.best().press_first, share, 1);
            if (search_.axis_free > 0.0)
                try_turns(found_.best().axis_degrees, 0.5 * share * search_.axis_free, 2);
        }
        return found_.gains() ? found_.best() : asked_;
    }

private:
    void try_starts(const Vec2& middle, double share, int rings) {
        for (int i = -rings; i <= rings; ++i)
            for (int j = -rings; j <= rings; ++j) {
                ClothLaying laying = found_.best();
                laying.press_first = middle + share * (i * u_ + j * v_);
                found_.offer(laying);
            }
    }

    void try_turns(double middle, double step, int count) {
        for (int i = -count; i <= count; ++i) {
            ClothLaying laying = found_.best();
            laying.axis_degrees =
                std::clamp(middle + i * step, asked_.axis_degrees - search_.axis_free,
                           asked_.axis_degrees + search_.axis_free);
            if (i != 0) found_.offer(laying);
        }
    }

    ClothLaying asked_;
    ClothSearch search_;
    LeastShear found_;
    Vec2 centre_{0, 0}, u_{1, 0}, v_{0, 1};
};

}  // namespace

ClothLaying best_laying(const ClothPicture& picture, const ClothLaying& asked,
                        const ClothSearch& search) {
    if (!search.free_start && !(search.axis_free > 0.0)) return asked;
    return LayingSearch(picture, asked, search).run();
}

Result<Piece> laid_best(const ClothPicture& picture, const ClothLaying& asked,
                        const ClothSearch& search) {
    const double cell = picture.cell();
    if (!search.free_start && !(search.axis_free > 0.0)) return picture.laid(asked, cell);
    LayingSearch looking(picture, asked, search);
    const ClothLaying best = looking.run();
    const auto known = looking.laid(best, cell);
    return known ? picture.piece_of(*known) : picture.laid(best, cell);
}

}  // namespace tearline::pieces
