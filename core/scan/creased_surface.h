#pragma once
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "core/scan/crease_line.h"
#include "core/scan/fair_surface.h"

namespace tearline::scan {

/// Fair surfaces that meet in chines: one on each side, the chine where they cross.
class CreasedSurface {
public:
    struct Piece {
        unsigned side = 0;  ///< bit k: left of crease k
        std::shared_ptr<const FairSurface> surface;
    };
    CreasedSurface(const PlaceView& view, std::vector<CreaseLine> creases,
                   std::vector<Piece> pieces)
        : view_(view), creases_(std::move(creases)), pieces_(std::move(pieces)) {}

    [[nodiscard]] const PlaceView& view() const { return view_; }
    [[nodiscard]] const std::vector<CreaseLine>& creases() const { return creases_; }
    [[nodiscard]] const std::vector<Piece>& pieces() const { return pieces_; }

    /// The piece on whose side of every chine a place seen in the view lies.
    [[nodiscard]] std::size_t piece_at(const Vec2& flat) const;
    /// Parameters of a piece's point that is seen at a place of the view.
    [[nodiscard]] Vec2 parameters(std::size_t piece, const Vec2& flat) const;

    /// A place of a chine, with the angle between the two sides.
    struct CreasePoint {
        Vec3 at{0, 0, 0};      ///< [mm]
        double turn = 0.0;     ///< [rad]
        bool crossed = false;  ///< whether the sides cross there at all
    };
    /// @param along  [mm] along the crease's chord
    [[nodiscard]] CreasePoint crease_point(std::size_t crease, double along) const;

    /// Leads every crease through where its sides cross, at steps over what is wanted.
    /// @return  the crease at whose `near` the sides do not cross, if there is one
    struct Parted {
        std::size_t crease = 0;
        Vec3 near{0, 0, 0};  ///< [mm]
    };
    [[nodiscard]] std::optional<Parted> follow_crossings(double reach);

private:
    PlaceView view_;
    std::vector<CreaseLine> creases_;
    std::vector<Piece> pieces_;
};

/// On which side of every crease a place lies: bit k where it is left of crease k.
[[nodiscard]] unsigned side_of(const std::vector<CreaseLine>& creases, const Vec2& flat);

}  // namespace tearline::scan
