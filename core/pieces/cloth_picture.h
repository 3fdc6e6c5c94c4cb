#pragma once
#include <limits>
#include <memory>
#include <optional>
#include <string>

#include "core/base/result.h"
#include "core/pieces/make_piece.h"
#include "core/pieces/piece.h"
#include "core/plies/lay_surface.h"

namespace tearline::pieces {

/// A ply's surface ready for cloth to be laid on it, from any place and along any axis.
class ClothPicture {
public:
    /// @error no_safe_answer  as for make_piece
    [[nodiscard]] static Result<ClothPicture> of(const plies::LaySurface& lay, std::string id);

    ClothPicture(ClothPicture&&) noexcept;
    ClothPicture& operator=(ClothPicture&&) noexcept;
    ~ClothPicture();

    /// @param cell  [mm] > 0: distance between the yarns that are followed
    /// @error no_safe_answer  the cloth shears shut before it covers the piece
    [[nodiscard]] Result<Piece> laid(const ClothLaying& laying, double cell) const;

    /// The largest shear, averaged as shear_max is; nothing where the cloth shears shut.
    [[nodiscard]] std::optional<double> shear(const ClothLaying& laying, double cell) const;

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

}  // namespace tearline::pieces
