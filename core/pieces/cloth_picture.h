#pragma once
#include <limits>
#include <memory>
#include <optional>
#include <string>

#include "core/base/result.h"
#include "core/pieces/piece.h"
#include "core/plies/lay_surface.h"

namespace tearline::pieces {

/// How woven or biaxial cloth is laid.
struct ClothLaying {
    Vec2 press_first{0, 0};     ///< [mm] in the patch's chart: where it is pressed down first
    Vec3 x{1, 0, 0};            ///< direction that the axis is counted from, in space
    Vec3 normal{0, 0, 1};       ///< of the surface where that runs along it
    double axis_degrees = 0.0;  ///< from x to the warp, counter-clockwise seen from the laying side
    bool biaxial = false;       ///< fibres at +-45 degrees to the axis instead of along and across
};

/// A ply's surface ready for cloth to be laid on it, from any place and along any axis.
class ClothPicture {
public:
    /// @error no_safe_answer  as for make_piece
    [[nodiscard]] static Result<ClothPicture> of(const plies::LaySurface& lay, std::string id);

    ClothPicture(ClothPicture&&) noexcept;
    ClothPicture& operator=(ClothPicture&&) noexcept;
    ~ClothPicture();

    /// One piece of cloth with its shear, flat: its yarns are straight, at `warp_degrees` and
    /// square to it (biaxial: at 45 degrees to it). +x is the direction `x` at the point pressed
    /// down first.
    /// @param cell  [mm] > 0: distance between the yarns that are followed
    /// @error no_safe_answer  the cloth shears shut before it covers the piece
    [[nodiscard]] Result<Piece> laid(const ClothLaying& laying, double cell) const;

    /// [mm] The cell of the net that a piece is laid by: wider over a large piece, as far as
    /// lengths change slowly enough from one cell to the next.
    [[nodiscard]] double cell() const;

    /// The largest shear, averaged as shear_max is; nothing where the cloth shears shut.
    [[nodiscard]] std::optional<double> shear(const ClothLaying& laying, double cell) const;

    /// The same where it is under a limit [deg]; nothing, and mostly sooner, where it is not.
    [[nodiscard]] std::optional<double> shear_under(double limit, const ClothLaying& laying,
                                                    double cell) const;

    /// The cloth laid in one way, by a net of one cell.
    struct Trial;
    /// What has a shear under a limit, for who goes on with it; null where shear_under() is
    /// nothing.
    [[nodiscard]] std::shared_ptr<const Trial> trial(double limit, const ClothLaying& laying,
                                                     double cell) const;
    /// The same piece as by laid().
    [[nodiscard]] Result<Piece> piece_of(const Trial& trial) const;

    /// Whether a place of the chart lies on the piece.
    [[nodiscard]] bool covers(const Vec2& chart) const;

    /// The surface laid flat as a membrane.
    [[nodiscard]] const Piece& membrane() const;

private:
    struct State;
    explicit ClothPicture(std::unique_ptr<State> state);
    std::unique_ptr<State> state_;
};

struct ClothSearch {
    bool free_start = true;  ///< the place pressed down first may be chosen
    double axis_free = 0.0;  ///< [deg] >= 0: how far the axis may turn to either side
    double cell = 20.0;      ///< [mm] > 0 of the nets that are compared
    /// [deg] > 0: where the best is far over it, no closer search is worth while
    double limit = std::numeric_limits<double>::infinity();
};

/// The start and the axis that need the least shear, as far as they are free.
///
/// Nets from places all over the piece, then axes, then closer and closer about the best. What was
/// asked for stays unless it is beaten by tolerance::shear_gain: on a surface that hardly bends
/// every start is as good.
[[nodiscard]] ClothLaying best_laying(const ClothPicture& picture, const ClothLaying& asked,
                                      const ClothSearch& search);

/// The piece laid in that way, by a net of the picture's own cell; the one that the search was
/// decided by serves where it has that cell.
///
/// @error no_safe_answer  as ClothPicture::laid()
[[nodiscard]] Result<Piece> laid_best(const ClothPicture& picture, const ClothLaying& asked,
                                      const ClothSearch& search);

}  // namespace tearline::pieces
