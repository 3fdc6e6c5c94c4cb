#include "core/plan/check_limits.h"

#include <gtest/gtest.h>

namespace tearline::plan {
namespace {

job::Fabric cloth(job::FabricKind kind) {
    job::Fabric fabric;
    fabric.name = "cloth of the test";
    fabric.kind = kind;
    return fabric;  // limits: 5 % strain, 40 degrees of shear
}

pieces::Piece piece(double strain, std::optional<double> shear) {
    pieces::Piece piece;
    piece.id = "3B";
    piece.strain_max = strain;
    piece.shear_max = shear;
    return piece;
}

TEST(CheckLimits, SaysNothingWithinThem) {
    EXPECT_TRUE(check_limits(cloth(job::FabricKind::mat), piece(0.049, {}))->empty());
    EXPECT_TRUE(check_limits(cloth(job::FabricKind::woven), piece(0, 29.9))->empty());
}

TEST(CheckLimits, RefusesMatOverItsStrainLimit) {
    const auto refused = check_limits(cloth(job::FabricKind::mat), piece(0.061, {}));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(refused.error().message().find("3B"), std::string::npos);
    EXPECT_NE(refused.error().message().find("6.1 %"), std::string::npos);
}

TEST(CheckLimits, CautionsFromThreeQuartersOfTheShearLimit) {
    const auto warnings = check_limits(cloth(job::FabricKind::woven), piece(0, 30.1));
    ASSERT_TRUE(warnings);
    ASSERT_EQ(warnings->size(), 1u);
    EXPECT_EQ(warnings->front().code(), "shear-near-limit");
}

TEST(CheckLimits, RefusesClothOverItsShearLimit) {
    const auto refused = check_limits(cloth(job::FabricKind::biaxial), piece(0, 40.1));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::no_safe_answer);
    EXPECT_NE(refused.error().message().find("40.1 degrees"), std::string::npos);
}

}  // namespace
}  // namespace tearline::plan
