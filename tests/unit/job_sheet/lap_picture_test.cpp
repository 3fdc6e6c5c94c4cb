#include "core/job_sheet/lap_picture.h"

#include <gtest/gtest.h>

#include <regex>
#include <set>

namespace tearline::job_sheet {
namespace {

/// Half of a flat sheet of 400 x 200 mm, cut along x = `seam`: one column of cells to either side.
pieces::Piece half(double seam, bool left) {
    pieces::Piece piece;
    const double from = left ? 0.0 : seam, to = left ? seam : 400.0;
    for (int j = 0; j <= 10; ++j)
        for (const double x : {from, to}) piece.flat.emplace_back(x, 20.0 * j);
    for (int j = 0; j < 10; ++j) {
        piece.lay.triangle.push_back({2 * j, 2 * j + 1, 2 * j + 3});
        piece.lay.triangle.push_back({2 * j, 2 * j + 3, 2 * j + 2});
    }
    piece.chart = piece.flat;
    for (const Vec2& p : piece.flat) piece.base.emplace_back(p.x(), p.y(), 0.0);
    piece.lay.position = piece.base;
    piece.seams = {{{seam, -10.0}, {seam, 210.0}}};
    return piece;
}

/// Plies of cloth, each parted along its own line.
Plan parted(const std::vector<double>& seams) {
    Plan plan;
    plan.job.fabrics["cloth"].kind = job::FabricKind::woven;
    plan.job.fabrics["cloth"].lap = 50.0;
    for (const double seam : seams) {
        templates::LaidPly ply;
        ply.number = static_cast<int>(plan.plies.size()) + 1;
        ply.fabric = "cloth";
        for (const bool left : {true, false}) {
            templates::LaidPiece piece;
            piece.piece = half(seam, left);
            ply.pieces.push_back(std::move(piece));
        }
        plan.plies.push_back(std::move(ply));
    }
    return plan;
}

std::multiset<std::string> words(const std::string& svg) {
    std::multiset<std::string> out;
    const std::regex text(">([^<>]+)</text>");
    for (std::sregex_iterator i(svg.begin(), svg.end(), text), end; i != end; ++i)
        out.insert((*i)[1]);
    return out;
}

TEST(LapPicture, NamesThePlyOfEverySeamOnce) {
    // Both pieces of a ply have the seam on their edge: it is still one seam, one number.
    HullProjection view;
    view.scale = 0.5;
    const std::string svg = laps_on_hull(parted({100.0, 300.0}), view);
    EXPECT_EQ(words(svg), (std::multiset<std::string>{"1", "2"}));
    EXPECT_NE(svg.find("stroke-width=\"25\""), std::string::npos) << "50 mm of lap at half size";
}

TEST(LapPicture, GivesSeamsAtOnePlaceOneName) {
    HullProjection view;
    view.scale = 0.5;
    EXPECT_EQ(words(laps_on_hull(parted({100.0, 300.0, 102.0}), view)),
              (std::multiset<std::string>{"1, 3", "2"}));
}

TEST(LapPicture, IsEmptyWhereNothingIsParted) {
    Plan plan = parted({100.0});
    for (templates::LaidPiece& piece : plan.plies[0].pieces) piece.piece.seams.clear();
    EXPECT_EQ(laps_on_hull(plan, {}), "");
}

}  // namespace
}  // namespace tearline::job_sheet
