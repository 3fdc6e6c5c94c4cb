#include "core/job_sheet/polar_sheet.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <regex>

#include "core/base/numbers.h"

namespace tearline::job_sheet {
namespace {

templates::LaidPiece piece(const std::string& id, const Loop2& net) {
    templates::LaidPiece out;
    out.piece.id = id;
    out.outline.net.outer = net;
    return out;
}

Loop2 square(double half) {
    return {{-half, -half}, {half, -half}, {half, half}, {-half, half}};
}

Plan plan_of(std::vector<templates::LaidPiece> pieces) {
    Plan plan;
    plan.job.hull.bow = Vec3(1, 0, 0);
    plan.job.hull.up = Vec3(0, 0, 1);
    plan.plies.resize(1);
    plan.plies[0].pieces = std::move(pieces);
    return plan;
}

/// The cells of every row of a table, by its angle.
std::map<int, std::vector<std::string>> rows_of(const std::string& html) {
    std::map<int, std::vector<std::string>> rows;
    const std::regex row("<tr><td>(\\d+)\u00b0</td>(.*)</tr>"), cell("<td>([^<]*)</td>");
    for (std::sregex_iterator i(html.begin(), html.end(), row), end; i != end; ++i) {
        const std::string cells = (*i)[2];
        for (std::sregex_iterator c(cells.begin(), cells.end(), cell); c != end; ++c)
            rows[std::stoi((*i)[1])].push_back((*c)[1]);
    }
    return rows;
}

TEST(PolarTables, OfASquareAreHalfItsSideByTheGreaterCosine) {
    const auto rows = rows_of(polar_tables(plan_of({piece("1A", square(120.0))})));
    ASSERT_EQ(rows.size(), 24u);  // a row each 15 degrees
    for (const auto& [angle, cells] : rows) {
        const double turn = angle * M_PI / 180.0;
        const double radius = 120.0 / std::max(std::abs(std::cos(turn)), std::abs(std::sin(turn)));
        ASSERT_EQ(cells.size(), 1u);
        EXPECT_EQ(cells[0], fixed(radius, 1)) << angle;
    }
}

TEST(PolarTables, HaveTheCornersThatABattenCannotBendRound) {
    const std::string html = polar_tables(plan_of({piece("1A", square(100.0))}));
    // By Pythagoras 141.4 mm, a quarter turn apart.
    for (const char* corner : {"45.0", "135.0", "225.0", "315.0"})
        EXPECT_NE(html.find(std::string(corner) + "\u00b0: 141.4"), std::string::npos) << html;
}

TEST(PolarTables, GiveTheTearLineBesideTheNetLineOnlyWhereThereIsOne) {
    templates::LaidPiece torn = piece("1A", square(100.0));
    torn.outline.tear = Region2{square(125.0), {}};
    const auto rows = rows_of(polar_tables(plan_of({torn, piece("1B", square(50.0))})));
    EXPECT_EQ(rows.at(0), (std::vector<std::string>{"100.0 / 125.0", "50.0"}));
}

TEST(PolarTables, SpreadOverAsManyTablesAsPaperIsWide) {
    std::vector<templates::LaidPiece> pieces;
    for (int i = 0; i < 9; ++i)
        pieces.push_back(piece(std::to_string(i + 1), square(10.0 * (i + 1))));
    const std::string html = polar_tables(plan_of(pieces));
    const auto tables = [&](const std::string& of) {
        std::size_t count = 0;
        for (auto at = of.find("<table"); at != std::string::npos; at = of.find("<table", at + 1))
            ++count;
        return count;
    };
    EXPECT_EQ(tables(html), 2u);
    EXPECT_EQ(rows_of(html).at(0).size(), 9u);
    EXPECT_EQ(polar_tables(plan_of({})), "");
}

}  // namespace
}  // namespace tearline::job_sheet
