#include "core/base/result.h"

#include <gtest/gtest.h>

namespace tearline {
namespace {

// Expected texts are those the command line has always said (tests/cli/bad_input_test.py).
TEST(Error, SaysOfFileLineKeyPlyAndPieceWhatIsKnown) {
    Error error = bad_input("damage.depth", "value 0: must be above 0").value();
    EXPECT_EQ(error.message(), "damage.depth: value 0: must be above 0");
    error.file = "job.toml";
    EXPECT_EQ(error.message(), "job.toml: damage.depth: value 0: must be above 0");
    error.line = 4;
    EXPECT_EQ(error.message(), "job.toml:4: damage.depth: value 0: must be above 0");

    Error of_piece = no_safe_answer("the cloth would have to turn over").value();
    EXPECT_EQ(of_piece.message(), "the cloth would have to turn over");
    of_piece.piece = "3.1";
    EXPECT_EQ(of_piece.message(), "piece 3.1: the cloth would have to turn over");
    of_piece.ply = 3;
    of_piece.fabric = "mat 450";
    of_piece.file = "job.toml";
    EXPECT_EQ(of_piece.message(),
              "job.toml: ply 3 (mat 450): piece 3.1: the cloth would have to turn over");
    EXPECT_EQ(of_piece.without_file(),
              "ply 3 (mat 450): piece 3.1: the cloth would have to turn over");
}

TEST(Error, GoesOnASentenceThatItsPieceOrKeyBegins) {
    const Error strained{.kind = ErrorKind::no_safe_answer,
                         .what = "of mat 450 must give 5.1 %",
                         .piece = "3.1",
                         .subject = true};
    EXPECT_EQ(strained.message(), "piece 3.1 of mat 450 must give 5.1 %");
}

TEST(Error, KeepsItsKindKeyAndPlaceApartFromTheWords) {
    const auto refused = no_safe_answer("hull.skin", "too thick", Vec3(1.0, 2.0, 3.0));
    EXPECT_EQ(refused.value().kind, ErrorKind::no_safe_answer);
    EXPECT_EQ(refused.value().key, "hull.skin");
    EXPECT_EQ(refused.value().what, "too thick");
    EXPECT_EQ(refused.value().place.value(), Vec3(1.0, 2.0, 3.0));
    const auto unwritten = output_failed("out", "cannot be written");
    EXPECT_EQ(unwritten.value().kind, ErrorKind::output_failed);
    EXPECT_EQ(unwritten.value().message(), "out: cannot be written");
}

}  // namespace
}  // namespace tearline
