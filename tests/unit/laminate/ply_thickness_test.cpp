#include "core/laminate/ply_thickness.h"

#include <gtest/gtest.h>

#include "core/job/fabric_catalogue.h"

namespace tearline::laminate {
namespace {

struct Row {
    const char* fabric;
    double thickness;  ///< [mm]
    double shown_to;   ///< [mm] half the last digit of the table
};

class PlyThicknessTable : public testing::TestWithParam<Row> {};

TEST_P(PlyThicknessTable, MatchesTradeFactsSection2) {
    // Expected: the table of SOURCES.md section 2, derived from the mass balance there.
    const job::Fabric fabric = job::built_in_fabrics().at(GetParam().fabric);
    EXPECT_NEAR(ply_thickness(fabric, job::Resin{}), GetParam().thickness, GetParam().shown_to);
}

INSTANTIATE_TEST_SUITE_P(
    Rows, PlyThicknessTable,
    testing::Values(Row{"mat 225", 0.525, 5e-4}, Row{"mat 300", 0.701, 5e-4},
                    Row{"mat 450", 1.050781, 5e-7}, Row{"mat 600", 1.401, 5e-4},
                    Row{"roving 600", 0.776042, 5e-7}, Row{"roving 800", 1.035, 5e-4},
                    Row{"biaxial 600", 0.734375, 5e-7}, Row{"biaxial 800", 0.979, 5e-4}));

TEST(PlyThickness, EqualsTheIso12215FormWithItsOwnDensities) {
    // The second form in DEFINITIONS.md, Edges: w (2.56/psi - 1.36) / 3.072, w in kg/m2.
    for (const double psi : {0.25, 0.30, 0.48, 0.60})
        EXPECT_NEAR(ply_thickness(GramsPerSquareMetre(457.7276), psi, 1.20),
                    0.4577276 * (2.56 / psi - 1.36) / 3.072, 1e-12);
}

TEST(PlyThickness, AllGlassIsGlassAlone) {
    // By hand: 2560 g/m2 of solid glass at 2.56 g/cm3 is 1 mm.
    EXPECT_NEAR(ply_thickness(GramsPerSquareMetre(2560.0), 1.0, 1.2), 1.0, 1e-12);
}

TEST(PlyThickness, DataSheetFigureWins) {
    job::Fabric fabric = job::built_in_fabrics().at("mat 450");
    fabric.thickness = 0.9;
    EXPECT_DOUBLE_EQ(ply_thickness(fabric, job::Resin{}), 0.9);
}

TEST(ResinPerGlass, MatchesTheRatiosOfTradeFactsSection2) {
    EXPECT_NEAR(resin_per_glass(0.30), 2.333, 5e-4);
    EXPECT_NEAR(resin_per_glass(0.48), 1.083, 5e-4);
    EXPECT_DOUBLE_EQ(resin_per_glass(0.50), 1.0);
}

}  // namespace
}  // namespace tearline::laminate
