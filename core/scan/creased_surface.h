#pragma once
#include <limits>
#include <memory>
#include <optional>
#include <utility>
#include <vector>

#include "core/scan/crease_line.h"
#include "core/scan/fair_surface.h"
#include "core/scan/rolled_bend.h"

namespace tearline::scan {

/// Fair surfaces that meet in chines: one on each side, the chine where they cross; or a bend
/// between them, where a ball of its radius rolls along both.
class CreasedSurface {
public:
    struct Piece {
        unsigned side = 0;  ///< bit k: left of crease k
        std::shared_ptr<const FairSurface> surface;
    };
    CreasedSurface(const PlaceView& view, std::vector<CreaseLine> creases,
                   std::vector<Piece> pieces)
        : view_(view),
          creases_(std::move(creases)),
          pieces_(std::move(pieces)),
          bends_(creases_.size()) {}

    [[nodiscard]] const PlaceView& view() const { return view_; }
    [[nodiscard]] const std::vector<CreaseLine>& creases() const { return creases_; }
    [[nodiscard]] const std::vector<Piece>& pieces() const { return pieces_; }

    /// The piece on whose side of every chine a place seen in the view lies.
    [[nodiscard]] std::size_t piece_at(const Vec2& flat) const;

    /// A place of a chine, with the angle between the two sides.
    struct CreasePoint {
        Vec3 at{0, 0, 0};      ///< [mm] on the line as it was known, where they do not cross
        double turn = 0.0;     ///< [rad]
        bool crossed = false;  ///< whether the sides cross there at all
    };
    /// @param along  [mm] along the crease's chord
    [[nodiscard]] CreasePoint crease_point(std::size_t crease, double along) const;

    /// Where the sides of a crease do not meet.
    struct Parted {
        std::size_t crease = 0;
        Vec3 near{0, 0, 0};  ///< [mm]
    };
    /// Leads every crease through where its sides cross, at steps over what is wanted.
    /// @return  the crease whose sides do not, if there is one
    [[nodiscard]] std::optional<Parted> follow_crossings(double reach);

    /// Rolls a ball along a crease.
    /// @return  where it does not touch both sides, if there is such a place
    [[nodiscard]] std::optional<Parted> roll(std::size_t crease, double radius, double reach);

    /// A line that a face ends at: a sharp chine, or where a bend touches one of its sides.
    struct Seam {
        std::size_t crease = 0;
        enum class Where { sharp, left, right } where = Where::sharp;
        CreaseLine line;  ///< as it is seen in the view
    };
    [[nodiscard]] std::vector<Seam> seams() const;
    /// @param along  [mm] a seam's own parameter
    [[nodiscard]] Vec3 seam_point(const Seam& seam, double along) const;
    /// The parameter of the place of a seam that is seen as far along as one of the view.
    [[nodiscard]] double seam_along(const Seam& seam, const Vec2& flat) const;

    /// Length round the bend of a crease that has one [mm].
    [[nodiscard]] double width(std::size_t crease) const { return bends_[crease]->surface.width(); }

    /// Faces are the pieces, and after them a bend for each crease that has one.
    [[nodiscard]] std::size_t faces() const { return pieces_.size() + creases_.size(); }
    [[nodiscard]] std::size_t face_at(const Vec2& flat) const;
    [[nodiscard]] SurfaceJet jet(std::size_t face, const Vec2& parameters) const;
    /// Parameters of a face's point that is seen at a place of the view.
    [[nodiscard]] Vec2 parameters(std::size_t face, const Vec2& flat) const;

private:
    [[nodiscard]] std::pair<const FairSurface*, const FairSurface*> sides_of(std::size_t crease,
                                                                             double along) const;
    [[nodiscard]] std::optional<BallPlace> ball_at(std::size_t crease, double along,
                                                   double radius) const;

    PlaceView view_;
    std::vector<CreaseLine> creases_;
    double aside_ = std::numeric_limits<double>::infinity();  ///< [mm] of its line a crossing lies
    std::vector<Piece> pieces_;
    struct Bend {
        RolledBend surface;
        CreaseLine left, right;  ///< where it touches its sides, in the view
    };
    std::vector<std::optional<Bend>> bends_;  ///< per crease
};

/// On which side of every crease a place lies: bit k where it is left of crease k.
[[nodiscard]] unsigned side_of(const std::vector<CreaseLine>& creases, const Vec2& flat);

}  // namespace tearline::scan
