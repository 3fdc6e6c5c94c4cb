#include "core/formats/dxf_groups.h"

#include <gtest/gtest.h>

#include <map>
#include <set>
#include <string>

namespace tearline::formats {
namespace {

using drawing::Role;

TEST(DxfGroups, StandOnTwoLinesEachWithTheCodeInThreePlaces) {
    // The layout that the format's own writers give: codes right-aligned in three places, CRLF.
    DxfGroups groups;
    groups.put(0, "LINE").put(62, 5).put(100, "AcDbLine").put(1000, "x");
    EXPECT_EQ(groups.take(), "  0\r\nLINE\r\n 62\r\n5\r\n100\r\nAcDbLine\r\n1000\r\nx\r\n");
}

TEST(DxfGroups, WriteFourDecimals) {
    // By hand: 1/3 and a negative nothing.
    DxfGroups groups;
    groups.put(40, 1.0 / 3.0).put(40, -0.00001).put(40, -12.0);
    EXPECT_EQ(groups.take(), " 40\r\n0.3333\r\n 40\r\n0.0000\r\n 40\r\n-12.0000\r\n");
}

TEST(DxfGroups, PointsAreXUnderTheCodeYTenMoreZTwentyMore) {
    DxfGroups groups;
    groups.point(Vec2(1.5, -2.0)).point(Vec2(3.0, 4.0), false, 11);
    EXPECT_EQ(
        groups.take(),
        " 10\r\n1.5000\r\n 20\r\n-2.0000\r\n 30\r\n0.0000\r\n 11\r\n3.0000\r\n 21\r\n4.0000\r\n");
}

// SOURCES.md section 9, ASTM D6673.
const std::map<Role, int> layers = {
    {Role::tear, 1},      {Role::cut, 1},   {Role::notch, 4},   {Role::fibre, 7},  {Role::net, 8},
    {Role::next_edge, 8}, {Role::datum, 8}, {Role::arrow, 8},   {Role::tick, 8},   {Role::ring, 8},
    {Role::sketch, 8},    {Role::hole, 11}, {Role::relief, 11}, {Role::drill, 13}, {Role::fold, 8}};

TEST(AstmLayer, IsThatOfTheStandard) {
    for (const auto& [role, layer] : layers) EXPECT_EQ(astm_layer(role), layer) << cad_layer(role);
}

TEST(AstmLayer, IsCutWhereABladeGoesAndNowhereElse) {
    // 1 and 11 are the layers that a cutter cuts; is_parted says where a blade goes.
    for (const auto& [role, layer] : layers)
        EXPECT_EQ(layer == 1 || layer == 11, drawing::is_parted(role)) << cad_layer(role);
}

TEST(CadLayer, OpeningsLieOnOneLayerWhetherTornOrCut) {
    EXPECT_EQ(astm_layer(Role::torn_hole), astm_layer(Role::hole));
    EXPECT_STREQ(cad_layer(Role::torn_hole), cad_layer(Role::hole));
    EXPECT_TRUE(drawing::is_parted(Role::torn_hole));
}

TEST(CadLayer, HasANameOfItsOwnForEveryRole) {
    std::set<std::string> names;
    for (const auto& [role, layer] : layers) names.insert(cad_layer(role));
    EXPECT_EQ(names.size(), layers.size());
    EXPECT_FALSE(names.contains("0")) << "the format's own layer";
    for (const std::string& name : names)
        EXPECT_EQ(name.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ_"), std::string::npos) << name;
}

}  // namespace
}  // namespace tearline::formats
