#include "core/plan/check_limits.h"

#include <string>

#include "core/base/numbers.h"

namespace tearline::plan {

namespace {

/// [-] of the shear limit from which a caution is given (common practice).
constexpr double caution_share = 0.75;

/// @param what  as it goes on from the piece's name
tl::unexpected<Error> refused(const pieces::Piece& piece, std::string what) {
    return tl::unexpected<Error>(Error{.kind = ErrorKind::no_safe_answer,
                                       .what = std::move(what),
                                       .piece = piece.id,
                                       .subject = true});
}

Result<Warnings> strain_warnings(const job::Fabric& fabric, const pieces::Piece& piece) {
    if (!(piece.strain_max > fabric.strain_limit)) return Warnings{};
    return refused(piece,
                   "of " + fabric.name + " must give " + fixed(100.0 * piece.strain_max, 1) +
                       " % in places, over its strain_limit of " +
                       fixed(100.0 * fabric.strain_limit, 1) +
                       " %; use a fabric that gives more, a smaller ply (scarf.ratio), or ease "
                       "the shape with a fillet");
}

Result<Warnings> shear_warnings(const job::Fabric& fabric, const pieces::Piece& piece) {
    const double shear = piece.shear_max.value_or(0.0);
    if (shear > fabric.shear_limit)
        return refused(piece, "of " + fabric.name + " must shear by " + fixed(shear, 1) +
                                  " degrees, over its shear_limit of " +
                                  fixed(fabric.shear_limit, 1) +
                                  "; use mat there, another axis, or ease the shape with a fillet");
    if (!(shear > caution_share * fabric.shear_limit)) return Warnings{};
    return Warnings{
        {.cause = warn::ShearNearLimit{fabric.name, shear, fabric.shear_limit}, .piece = piece.id}};
}

}  // namespace

Result<Warnings> check_limits(const job::Fabric& fabric, const pieces::Piece& piece) {
    if (fabric.kind == job::FabricKind::mat) return strain_warnings(fabric, piece);
    return shear_warnings(fabric, piece);
}

}  // namespace tearline::plan
