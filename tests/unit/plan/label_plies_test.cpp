#include "core/plan/label_plies.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/base/sheet_words.h"
#include "core/templates/laid_ply.h"

namespace tearline::plan {
namespace {

/// One piece of a ply as a square of the table, and what there is to say of it.
struct Labelled {
    job::Job job;
    std::vector<templates::LaidPly> plies{1};
    std::vector<quantities::PlyAmounts> amounts{1};
    Warnings warnings;
    std::string repair;

    Labelled() {
        job.title = "Curlew";
        plies[0].number = 3;
        plies[0].fabric = "mat 450";
        add_piece("3A");
    }
    void add_piece(const std::string& id) {
        templates::LaidPiece piece;
        piece.piece.id = id;
        piece.outline.net.outer = {{-300, -300}, {300, -300}, {300, 300}, {-300, 300}};
        piece.outline.area_mm2 = 360'000.0;
        plies[0].pieces.push_back(piece);
        amounts[0].pieces.push_back({162.0, 378.0});
    }
    /// Sentences that go over several lines.
    [[nodiscard]] std::string sentences() const {
        std::string text = words();
        std::replace(text.begin(), text.end(), '|', ' ');
        return text;
    }
    /// The lines on a template, a bar between them.
    [[nodiscard]] std::string words(std::size_t piece = 0, bool warnings_alone = false) const {
        const auto out = labelled(plies, amounts, warnings, {job, repair}, {});
        std::string words = "|";
        for (const templates::Mark& mark : out[0].pieces[piece].outline.marks)
            if (const auto* label = std::get_if<templates::Label>(&mark))
                if (!warnings_alone || label->warning) words += label->text + "|";
        return words;
    }
};

bool says(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

TEST(LabelPlies, SaysPlyPieceClothFaceAreaAndAmounts) {
    const std::string words = Labelled().words();
    EXPECT_TRUE(says(words, "|PLY 3 · 3A|mat 450|")) << words;
    EXPECT_TRUE(says(words, std::string("|") + face_words + "|"));
    EXPECT_TRUE(says(words, "|0.360 m²|glass 162 g · resin 378 g|Curlew|"));
    EXPECT_TRUE(says(words, "|MAT HAS NO GRAIN: TEAR IT FROM THE"));
    for (const char* none : {"MAKE", "COVER", "SKIN COAT", "LAID FROM", "MAY BE OFF"})
        EXPECT_FALSE(says(words, none)) << none;
}

TEST(LabelPlies, SaysAreasInTheUnitThatAPersonSees) {
    // By hand: 99.9 cm2 is still told in cm2, 100 cm2 in m2; 1 ft2 is 304.8^2 mm2.
    Labelled one;
    const auto at = [&](double mm2, Units units) {
        one.plies[0].pieces[0].outline.area_mm2 = mm2;
        one.job.display_units = units;
        return one.words();
    };
    EXPECT_TRUE(says(at(9990.0, Units::metric), "|99.9 cm²|"));
    EXPECT_TRUE(says(at(10'000.0, Units::metric), "|0.010 m²|"));
    EXPECT_TRUE(says(at(9.0 * 645.16, Units::us), "|9.00 in²|"));
    EXPECT_TRUE(says(at(2.5 * 92'903.04, Units::us), "|2.50 ft²|"));
}

TEST(LabelPlies, SaysMassesByTwoFiguresAndOuncesBeforeGrams) {
    Labelled one;
    const auto with = [&](double glass, Units units) {
        one.amounts[0].pieces[0].glass_g = glass;
        one.job.display_units = units;
        return one.words();
    };
    EXPECT_TRUE(says(with(12.34, Units::metric), "glass 12 g"));
    EXPECT_TRUE(says(with(1.234, Units::metric), "glass 1.2 g"));
    EXPECT_TRUE(says(with(0.1234, Units::metric), "glass 0.12 g"));
    EXPECT_TRUE(says(with(0.0123, Units::metric), "glass 0.012 g"));
    // NIST Handbook 44, appendix C: an ounce avoirdupois is 28.349523125 g.
    EXPECT_TRUE(says(with(283.49523125, Units::us), "|glass 10 oz wt (283 g)|resin "));
}

TEST(LabelPlies, SaysWhatKindOfPlyItIs) {
    Labelled one;
    one.plies[0].cover = true;
    one.job.layup.copies = 4;
    one.repair = "R2";
    one.plies[0].edge_error_mm = 3.26;
    const std::string words = one.words();
    EXPECT_TRUE(says(words, "|R2|PLY 3 · 3A|mat 450 · COVER PLY|")) << words;
    EXPECT_TRUE(says(words, "|MAKE 4|"));
    EXPECT_TRUE(says(words, "|THIS EDGE MAY BE OFF BY 3.3 MM|"));
}

TEST(LabelPlies, OfAPartSaysFromWhichSideAndWhichSkin) {
    Labelled one;
    one.job.part.on_new = true;
    one.job.part.name = "from outside";
    EXPECT_TRUE(says(one.words(), "|LAID FROM OUTSIDE|0.360")) << one.words();
    one.job.part.name = "inner skin";
    one.plies[0].side = job::Side::inside;
    EXPECT_TRUE(says(one.words(), "|LAID FROM INSIDE|INNER SKIN|"));
}

TEST(LabelPlies, NamesTheSkinCoatAndNoOtherPly) {
    Labelled one;
    one.job.part.skin_coat = true;
    EXPECT_FALSE(says(one.words(), "SKIN COAT"));
    one.job.part.plies_before = 2;
    EXPECT_TRUE(says(one.words(), "|SKIN COAT ON THE GEL COAT|"));
}

TEST(LabelPlies, CallsAJobWithoutATitleByItsFile) {
    Labelled one;
    one.job.title.clear();
    one.job.file = "jobs/panel of the shed.toml";
    EXPECT_TRUE(says(one.words(), "|panel of the shed|"));
}

TEST(LabelPlies, OfClothSaysItsAxisAndWhereItIsPressedDown) {
    Labelled one;
    one.plies[0].kind = job::FabricKind::woven;
    EXPECT_FALSE(says(one.words(), "MAT HAS NO GRAIN"));
    EXPECT_FALSE(says(one.sentences(), "45 DEGREES"));
    EXPECT_FALSE(says(one.words(), "PRESS DOWN"));
    one.plies[0].kind = job::FabricKind::biaxial;
    EXPECT_TRUE(says(one.sentences(), "45 DEGREES"));
    one.plies[0].pieces[0].piece.press_first = Vec2(0, 0);
    EXPECT_TRUE(says(one.sentences(), "PRESS DOWN AT THE RING FIRST"));
    EXPECT_FALSE(says(one.sentences(), "OFF THE MIDDLE"));
}

TEST(LabelPlies, SaysWhyTheRingIsNotInTheMiddleWhereNobodyPutItThere) {
    Labelled one;
    one.plies[0].kind = job::FabricKind::woven;
    one.plies[0].pieces[0].piece.press_first = Vec2(0, 0);
    const auto with_ring = [&](double off) {
        one.plies[0].pieces[0].outline.marks = {templates::PressFirst{{off, 0}, 6.0}};
        return says(one.sentences(), "OFF THE MIDDLE");
    };
    EXPECT_FALSE(with_ring(2.9)) << "within half a ring";
    EXPECT_TRUE(with_ring(3.1));
    one.job.layup.press_first = Vec3(0, 0, 0);
    EXPECT_FALSE(with_ring(3.1)) << "the job says so";
}

TEST(LabelPlies, WarnsOnThePieceThatIsConcerned) {
    Labelled one;
    one.add_piece("3B");
    Warning of_piece{.cause = warn::ShearNearLimit{"roving 600", 31.0, 40.0}};
    of_piece.ply = 3;
    of_piece.piece = "3B";
    one.warnings = {of_piece};
    EXPECT_EQ(one.words(0, true), "|");
    EXPECT_TRUE(says(one.words(1, true), "31")) << one.words(1, true);
}

TEST(LabelPlies, WarnsOfAPlyOnAllOfItsPiecesAndOfNothingElse) {
    Labelled one;
    one.add_piece("3B");
    Warning of_ply{.cause = warn::CutAtHullEnd{false}}, of_other = of_ply;
    of_ply.ply = 3;
    of_other.ply = 2;
    const Warning of_none{.cause = warn::FloorThin{8.0, 9.0}};
    Warning crease{.cause = warn::CreaseTrimmed{{true, 30.0, Vec3(0, 0, 0)}, 0.5}};
    crease.ply = 3;
    one.warnings = {of_other, of_none, crease};
    EXPECT_EQ(one.words(0, true) + one.words(1, true), "||")
        << "what the template allows for stands on the sheet";
    one.warnings.push_back(of_ply);
    EXPECT_NE(one.words(0, true), "|");
    EXPECT_NE(one.words(1, true), "|");
}

}  // namespace
}  // namespace tearline::plan
