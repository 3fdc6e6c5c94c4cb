#include "core/templates/fold_lines.h"

#include <algorithm>

#include "core/base/tolerances.h"
#include "core/plane/segment.h"

namespace tearline::templates {

namespace {

/// A place of a piece on a chart line.
struct PlaceOnLine {
    double along = 0.0;  ///< [-] segments from the line's start
    Vec2 flat{0, 0};
};

/// The places where a piece's mesh lies on a line, in its order.
std::vector<PlaceOnLine> places_on(const pieces::Piece& piece, const std::vector<Vec2>& line) {
    std::vector<PlaceOnLine> places;
    for (std::size_t v = 0; v < piece.chart.size(); ++v)
        for (std::size_t i = 0; i + 1 < line.size(); ++i) {
            const double part = plane::nearest_share(line[i], line[i + 1], piece.chart[v]);
            const Vec2 foot = line[i] + part * (line[i + 1] - line[i]);
            if (!((piece.chart[v] - foot).norm() <= tolerance::on_chart_line)) continue;
            places.push_back({static_cast<double>(i) + part, piece.flat[v]});
            break;
        }
    std::stable_sort(places.begin(), places.end(),
                     [](const PlaceOnLine& a, const PlaceOnLine& b) { return a.along < b.along; });
    return places;
}

}  // namespace

void add_folds(const pieces::Piece& piece, const std::vector<FoldRequest>& folds,
               std::vector<Mark>& marks) {
    for (const FoldRequest& request : folds) {
        Fold fold{{}, request.text};
        for (const PlaceOnLine& place : places_on(piece, request.chart))
            fold.line.push_back(place.flat);
        if (fold.line.size() > 1) marks.emplace_back(std::move(fold));
    }
}

}  // namespace tearline::templates
