#include "core/pieces/lay_down.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>
#include <utility>

#include "core/base/numbers.h"
#include "core/pieces/cloth_picture.h"
#include "core/pieces/crease_seams.h"
#include "core/pieces/cut_search.h"
#include "core/pieces/flat_outline.h"
#include "core/pieces/lay_membrane.h"
#include "core/pieces/make_piece.h"
#include "core/pieces/part_cloth.h"
#include "core/pieces/piece_frame.h"
#include "core/pieces/relief_cuts.h"
#include "core/pieces/split_search.h"
#include "core/pieces/tolerances.h"
#include "core/plane/nearest_on_line.h"

namespace tearline::pieces {

namespace {

/// [mm] laps of successive plies keep at least this far apart (the project's rule).
constexpr double laps_apart = 50.0;
/// [mm] no seam or cut comes nearer to the middle of the damage.
constexpr double off_middle = 15.0;
/// [mm] lines that part a shape are meshed so far beyond its outline.
constexpr double past_outline = 1.0;
/// [mm2] a smaller part is no piece to handle.
constexpr double least_part_area = 2500.0;
/// [-] the most help that is tried before a shape is refused.
constexpr int most_cuts = 6, most_seams = 8, most_small_seams = 12;
/// [-] so many ways are meshed at once; of more, those that a trial says nothing good of are left
/// out.
constexpr int tried_at_once = 4;
/// [mm] a cut ends where the surface turns no tighter than this, and so far from a crease.
constexpr double sound_radius = 60.0, clear_of_crease = 15.0;

bool is_mat(const PlyShape& shape) {
    return shape.fabric.kind == job::FabricKind::mat;
}

/// Lines a little longer at both ends, so that they cross the outline for certain: one that ends
/// just inside of it leaves a sliver there.
CutLines lengthened(CutLines lines) {
    for (auto& line : lines) {
        line.front() += past_outline * (line.front() - line[1]).normalized();
        line.back() += past_outline * (line.back() - line[line.size() - 2]).normalized();
    }
    return lines;
}

/// Lays one shape down, from no help to much.
class LayDownSearch {
public:
    LayDownSearch(const PlyShape& shape, const plies::LaySurface& whole, const LaidBefore& laid)
        : shape_(shape),
          whole_(whole),
          before_(laid.before),
          two_before_(laid.two_before),
          may_cut_(laid.cuts) {}

    [[nodiscard]] Result<Piece> in_one_piece() const { return one_piece(whole_, 0, {}); }

    tl::expected<LaidDown, NotLaid> run(Result<Piece> plain) {
        if (plain && lies_down(*plain, shape_.fabric)) {
            LaidDown out;
            out.pieces.push_back(*std::move(plain));
            return out;
        }
        why_ = plain ? complaint(*plain, shape_.fabric)
                     : warn::Complaint{.of = warn::Complaint::Of::cloth,
                                       .cloth = plain.error().message()};
        if (plain) chart_width_ = width_in_chart(*plain);
        if (plain)
            over_ = is_mat(shape_) ? plain->strain_max / shape_.fabric.strain_limit
                                   : plain->shear_max.value_or(0.0) / shape_.fabric.shear_limit;
        // Whole cloth that can be laid but strains too much may do with cuts; a roll too narrow or
        // cloth that turns over wants seams.
        const bool cuts = may_cut_ && plain && is_mat(shape_) &&
                          plain->strain_max > shape_.fabric.strain_limit &&
                          roll_need(*plain, shape_.fabric) <= shape_.fabric.roll_width;
        for (const Search search : {Search::usual, Search::between, Search::small}) {
            if (search == Search::between && before_.empty()) continue;
            if (search == Search::small && !tears_small()) break;
            search_ = search;
            for (const bool through_middle : {false, true}) {
                if (through_middle && !shape_.middle_whole) break;
                may_cross_middle_ = through_middle;
                if (auto found = least_help(plain, cuts && search != Search::small))
                    return std::move(*found);
            }
        }
        return refusal(plain);
    }

private:
    std::optional<LaidDown> least_help(const Result<Piece>& plain, bool cuts) {
        const int most = search_ == Search::small ? most_small_seams : most_seams;
        for (int count = 1; count <= most; ++count) {
            // Cuts of half the way in are about as long, three of them, as a seam.
            for (int more = 3 * count - 2; cuts && more <= std::min(3 * count, most_cuts); ++more) {
                if (over_ > 1.0 + tolerance::cut_hope * more) continue;
                if (auto found = with_cuts(*plain, more)) return found;
            }
            if (auto found = with_seams(count)) return found;
        }
        return std::nullopt;
    }

    /// Whether mat is laid over what larger pieces do not go over.
    [[nodiscard]] bool tears_small() const { return is_mat(shape_) && over_ > 1.0; }

    [[nodiscard]] ClothLaying asked(const ClothPicture& picture) const {
        ClothLaying laying;
        laying.press_first = shape_.press_first.value_or(shape_.middle);
        if (!picture.covers(laying.press_first))
            laying.press_first = extent_of(chart_outline(picture.membrane())).centre;
        laying.x = shape_.axis_from;
        laying.normal = shape_.normal;
        laying.axis_degrees = shape_.entry.axis;
        laying.biaxial = shape_.fabric.kind == job::FabricKind::biaxial;
        return laying;
    }

    Result<Piece> cloth(const plies::LaySurface& lay, std::string id) const {
        const auto picture = ClothPicture::of(lay, std::move(id));
        if (!picture) return tl::unexpected(picture.error());
        ClothSearch search;
        search.free_start = !(shape_.press_first && picture->covers(*shape_.press_first));
        search.axis_free = shape_.entry.axis_free;
        // In pieces, what is far over is parted further; whole, the least it needs is told.
        if (&lay != &whole_) search.limit = shape_.fabric.shear_limit;
        // A large piece is compared by the net that it is laid by.
        search.cell = std::max(search.cell, picture->cell());
        return laid_best(*picture, asked(*picture), search);
    }

    Result<Piece> one_piece(const plies::LaySurface& lay, std::size_t index,
                            const CutLines& cuts) const {
        std::string id = piece_id(shape_, index);
        auto piece =
            is_mat(shape_) ? make_piece(lay, std::move(id), cuts) : cloth(lay, std::move(id));
        if (piece) turn_to_frame(*piece, shape_.middle, shape_.y, shape_.axis_from, shape_.normal);
        return piece;
    }

    /// Whether lines keep off the laps of the ply before and, while they must, off the middle.
    [[nodiscard]] bool keep_distance(const CutLines& lines, double half_width) const {
        // Ways that keep off the middle were all tried before those that do not.
        const bool crosses = shape_.middle_whole && plane::distance_to_lines(lines, shape_.middle) <
                                                        off_middle + half_width;
        if (crosses != may_cross_middle_) return false;
        return clear_of(before_, lines, half_width);
    }

    static bool clear_of(std::span<const Band> bands, const CutLines& lines, double half_width) {
        return std::all_of(bands.begin(), bands.end(), [&](const Band& band) {
            return distance_alongside(lines, {band.line}) >=
                   laps_apart + half_width + band.half_width;
        });
    }

    [[nodiscard]] bool sound_end(const Vec2& tip) const {
        for (const auto& chain : shape_.patch->crease_lines()) {
            std::vector<Vec2> line;
            for (const std::int32_t v : chain)
                line.push_back(shape_.patch->chart[static_cast<std::size_t>(v)]);
            if (plane::distance_to_line(line, tip) < clear_of_crease) return false;
        }
        const auto at = shape_.patch->locate(tip);
        if (!at) return false;
        const auto sample = shape_.patch->sample(*at);
        const double bend =
            std::max(std::abs(sample.curvature_min), std::abs(sample.curvature_max));
        return bend * sound_radius < 1.0;
    }

    std::optional<LaidDown> with_cuts(const Piece& plain, int count) {
        if (!proposals_) proposals_.emplace(plain, shape_.fabric.strain_limit);
        const CutRules rules{
            shape_.fabric.strain_limit, [this](const Vec2& tip) { return sound_end(tip); },
            [this](const CutLines& lines) { return keep_distance(lines, 0.0); },
            [this](const CutLines& lines) { return clear_of(two_before_, lines, 0.0); }, search_};
        const auto trial = best_cuts(*proposals_, whole_, plain, rules, count);
        if (!trial || !(trial->strain <= shape_.fabric.strain_limit)) return std::nullopt;
        const auto lay = lay_with_lines(shape_, trial->lines);
        if (!lay) return std::nullopt;
        auto piece = one_piece(*lay, 0, trial->lines);
        if (!piece || !lies_down(*piece, shape_.fabric)) return std::nullopt;
        LaidDown out;
        for (const auto& line : trial->lines) out.bands.push_back({line, 0.0});
        const auto darts = static_cast<std::size_t>(
            std::count_if(piece->cuts.begin(), piece->cuts.end(),
                          [](const PieceCut& cut) { return cut.opening > 0.0; }));
        tell(out, warn::ReliefCuts{shape_.fabric.name, piece->cuts.size() - darts, darts, why_,
                                   piece->strain_max});
        out.pieces.push_back(std::move(*piece));
        return out;
    }

    std::optional<LaidDown> with_seams(int count) {
        const double half = lap_half_width(shape_.fabric);
        const auto keeps = [&](const Division& way) {
            return !hopeless(way) && keep_distance(way.lines, half);
        };
        const auto prefers = [&](const Division& way) {
            return clear_of(two_before_, way.lines, half);
        };
        std::vector<Division> ways = divisions(shape_, count, keeps, prefers, search_);
        if (is_mat(shape_) && search_ == Search::usual)  // cloth is parted along its yarns
            for (Division& way : along_creases(count, keeps)) ways.push_back(std::move(way));
        for (const Division& way : ways) {
            if (too_wide(way)) continue;
            if (failed_ >= tried_at_once && far_over(way)) continue;
            auto found = parted(way);
            if (!found) {
                ++failed_;
                continue;
            }
            for (const auto& line : way.lines) found->bands.push_back({line, half});
            tell(*found, warn::LaidInPieces{shape_.fabric.name, is_mat(shape_),
                                            found->pieces.size(), 2.0 * half, why_});
            return found;
        }
        return std::nullopt;
    }

    /// Ways along creases, with seams across them besides: a ring round a foot that is parted from
    /// its tube lies flat once it is open.
    [[nodiscard]] std::vector<Division> along_creases(
        int count, const std::function<bool(const Division&)>& keeps) const {
        constexpr int most_across = 2;
        if (count == 1) return crease_divisions(shape_, keeps);
        std::vector<Division> out;
        if (count > 1 + most_across) return out;
        const auto any = [](const Division&) { return true; };
        for (const Division& crease : crease_divisions(shape_, keeps))
            for (Division& way : divisions(shape_, count - 1, any, any)) {
                way.creases = crease.creases;
                way.lines.insert(way.lines.begin(), crease.lines.begin(), crease.lines.end());
                if (keeps(way)) out.push_back(std::move(way));
            }
        return out;
    }

    /// The part of each triangle, by the creases and seams of a way.
    static std::vector<std::int32_t> parts_by(const plies::LaySurface& lay, const Division& way) {
        if (way.creases.empty()) return cells_of(lay, way.seams);
        std::vector<std::int32_t> parts = sides_of_lines(lay, way.creases);
        if (way.seams.empty()) return parts;
        const std::vector<std::int32_t> cells = cells_of(lay, way.seams);
        const std::int32_t count = *std::max_element(cells.begin(), cells.end()) + 1;
        for (std::size_t t = 0; t < parts.size(); ++t) parts[t] = parts[t] * count + cells[t];
        return parts;
    }

    /// How much wider than its roll a piece may be in the chart: what was laid in one piece tells
    /// how true the chart is.
    [[nodiscard]] double width_in_chart(const Piece& plain) const {
        const double in_chart = least_breadth(shape_.region.outer).width;
        const double flat = least_breadth(plain.flat).width;
        // Sheared cloth is narrower than it was cut.
        const double gives =
            is_mat(shape_)
                ? plain.strain_max
                : 1.0 / std::cos(plain.shear_max.value_or(0.0) * std::numbers::pi / 180.0) - 1.0;
        return std::min(tolerance::chart_width,
                        in_chart / flat * (tolerance::chart_width_known + gives));
    }

    /// Whether a piece would be far too wide for its roll. The chart tells how wide it is to a few
    /// in a hundred.
    [[nodiscard]] bool too_wide(const Division& way) const {
        // Creases are no straight seams, and cloth that may turn is as wide as its best turn.
        if (!way.creases.empty() || shape_.entry.axis_free > 0.0) return false;
        const Vec2 across(-std::sin(way.seams.angle), std::cos(way.seams.angle));
        const auto need = [&](const Region2& cell) {
            return is_mat(shape_)
                       ? least_breadth(cell.outer).width + 2.0 * shape_.fabric.tear_margin
                       : breadth_along(cell.outer, across) + shape_.fabric.lap;
        };
        const std::vector<Region2> cells = divided(shape_.region, way.seams);
        return std::any_of(cells.begin(), cells.end(), [&](const Region2& cell) {
            return need(cell) > chart_width_ * shape_.fabric.roll_width;
        });
    }

    /// Whether the pieces would still be far over the limit: strain and shear go with the square of
    /// a piece's size where the surface bends evenly, so cells n times smaller have 1 / n of it.
    [[nodiscard]] bool hopeless(const Division& way) const {
        return way.creases.empty() && over_ > tolerance::help_hope * way.cells;
    }

    /// Whether a piece of the whole surface's own triangles is far over the limit: its edge is
    /// rough, but to mesh a way anew costs many times as much.
    [[nodiscard]] bool far_over(const Division& way) const {
        if (!is_mat(shape_)) return false;
        const std::vector<SurfacePart> parts = parts_of(whole_, parts_by(whole_, way));
        return std::any_of(parts.begin(), parts.end(), [&](const SurfacePart& part) {
            const double strain =
                parted_strain(part.lay,
                              std::vector<std::array<bool, 3>>(part.lay.mesh.triangle.size(),
                                                               {false, false, false}),
                              part.lay.chart);
            return std::isfinite(strain) &&
                   strain > tolerance::trial_hope * shape_.fabric.strain_limit;
        });
    }

    std::optional<LaidDown> parted(const Division& way) const {
        const auto lay = lay_with_lines(shape_, lengthened(way.seam_lines()));
        if (!lay) return std::nullopt;
        std::vector<SurfacePart> parts = parts_of(*lay, parts_by(*lay, way));
        // The largest first: where one is over its limit, it is.
        std::vector<std::size_t> order(parts.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return parts[a].lay.area > parts[b].lay.area;
        });
        if (parts.size() < 2 || parts[order.back()].lay.area < least_part_area) return std::nullopt;
        LaidDown out;
        out.pieces.resize(parts.size());
        for (const std::size_t i : order) {
            auto piece = one_piece(parts[i].lay, i, {});
            if (!piece) return std::nullopt;
            piece->seams = way.lines;
            if (!lies_down(*piece, shape_.fabric)) return std::nullopt;
            out.pieces[i] = std::move(*piece);
        }
        return out;
    }

    /// The cell of each triangle, by its place on its own sheet.
    static std::vector<std::int32_t> cells_of(const plies::LaySurface& lay, const Seams& seams) {
        std::vector<std::int32_t> cells;
        for (std::size_t t = 0; t < lay.mesh.triangle.size(); ++t) {
            Vec2 middle = Vec2::Zero();
            for (std::size_t i = 0; i < 3; ++i)
                middle += (lay.corner_chart.empty()
                               ? lay.chart[static_cast<std::size_t>(lay.mesh.triangle[t][i])]
                               : lay.corner_chart[t][i]) /
                          3.0;
            cells.push_back(seams.cell(middle));
        }
        return cells;
    }

    void tell(LaidDown& out, WarningCause cause) const {
        out.warnings.push_back({.cause = std::move(cause), .ply = shape_.ply});
        if (may_cross_middle_)
            out.warnings.push_back(
                {.cause = warn::SeamThroughMiddle{shape_.fabric.name}, .ply = shape_.ply});
    }

    [[nodiscard]] tl::unexpected<NotLaid> refusal(const Result<Piece>& plain) const {
        const auto refused = [](const std::string& what, bool crowded = false) {
            return tl::unexpected(NotLaid{no_safe_answer(what).value(), crowded});
        };
        if (plain && within_limit(*plain, shape_.fabric))
            return refused("the cloth " + why_.words().told +
                           ", and cannot be split within the rules for laps; a wider roll "
                           "(roll_width) or a narrower " +
                           (is_mat(shape_) ? "torn band (tear_margin)" : "lap") +
                           " would change it");
        const std::string seams =
            std::to_string(tears_small() ? most_small_seams : most_seams) + " seams";
        const std::string tried = is_mat(shape_)
                                      ? ", and neither cuts nor " + seams + " bring it under; "
                                      : ", and " + seams + " do not bring it under; ";
        if (!before_.empty() && LayDownSearch(shape_, whole_, {}).run(plain))
            return refused(
                "the cloth " + why_.words().told +
                    "; in pieces or cut it would lie down, but with a lap or cut "
                    "within " +
                    fixed(laps_apart, 0) +
                    " mm of one of the ply before, which would make "
                    "one weak line of both; a fabric for either ply that needs no help there "
                    "(layup, strain_limit or shear_limit), " +
                    shape_.smaller + " or a fillet that eases the shape there would change it",
                true);
        const std::string fabric =
            is_mat(shape_) ? "a fabric that gives more (strain_limit)"
                           : "a fabric that shears more (shear_limit), mat, another axis "
                             "(axis, axis_free)";
        return refused("the cloth " + why_.words().told + tried + fabric + ", " + shape_.smaller +
                       " or a fillet that eases the shape there would change it");
    }

    const PlyShape& shape_;
    const plies::LaySurface& whole_;
    std::span<const Band> before_, two_before_;
    bool may_cut_;
    warn::Complaint why_{};
    double chart_width_ = tolerance::chart_width;  ///< [-]
    double over_ = 0.0;  ///< [-] strain or shear in one piece over the limit, where it is known
    bool may_cross_middle_ = false;
    int failed_ = 0;  ///< ways that were meshed and did not serve
    Search search_ = Search::usual;
    std::optional<CutProposals> proposals_;
};

}  // namespace

Result<LaidDown> lay_down(const PlyShape& shape, const plies::LaySurface& whole,
                          std::span<const Band> before, std::span<const Band> two_before) {
    auto down = lay_down_beside(shape, whole, lay_whole(shape, whole), {before, two_before});
    if (!down) return tl::unexpected(std::move(down.error().error));
    return *std::move(down);
}

Result<Piece> lay_whole(const PlyShape& shape, const plies::LaySurface& whole) {
    return LayDownSearch(shape, whole, {}).in_one_piece();
}

tl::expected<LaidDown, NotLaid> lay_down_beside(const PlyShape& shape,
                                                const plies::LaySurface& whole,
                                                Result<Piece> in_one_piece,
                                                const LaidBefore& laid) {
    return LayDownSearch(shape, whole, laid).run(std::move(in_one_piece));
}

}  // namespace tearline::pieces
