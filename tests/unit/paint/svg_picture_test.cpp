#include <gtest/gtest.h>

#include <QImage>
#include <QPainter>
#include <QTextDocument>
#include <QTextImageFormat>

#include "core/paper/paint_svg.h"
#include "core/paper/picture_handler.h"
#include "tests/unit/paint/recorder.h"

// Pictures of a sheet as they come out on paper: expected places and colours by the rules of
// SVG 1.1 (W3C), worked out by hand for each picture.
namespace tearline::paper {
namespace {

constexpr int dots = 10;  // for one unit of a picture

/// A picture of 20 x 10 units on white, without half-tones in the middle of areas.
QImage painted(const std::string& inside, const char* root = R"(viewBox="0 0 20 10")") {
    QImage image(20 * dots, 10 * dots, QImage::Format_RGB32);
    image.fill(Qt::white);
    const std::string text =
        "<svg width=\"20mm\" height=\"10mm\" " + std::string(root) + ">" + inside + "</svg>";
    QPainter painter(&image);
    SvgPicture(QByteArray::fromStdString(text)).paint(painter, QRectF(QPointF(0, 0), image.size()));
    return image;
}

/// The colour at a place [units of the picture].
QColor at(const QImage& image, double x, double y) {
    return image.pixelColor(static_cast<int>(x * dots), static_cast<int>(y * dots));
}

const QColor white(Qt::white), red(255, 0, 0), black(Qt::black);

TEST(SvgPicture, IsAsLargeAsItSays) {
    EXPECT_EQ(SvgPicture(R"(<svg width="91.5mm" height="40mm"/>)").size_mm(), QSizeF(91.5, 40));
    EXPECT_EQ(SvgPicture(R"(<svg width="91.5" height="40"/>)").size_mm(), QSizeF(91.5, 40));
}

TEST(SvgPicture, FillsTheBoxThatItsViewBoxNames) {
    const QImage image = painted(R"(<rect x="100" y="50" width="10" height="5" fill="#f00"/>)",
                                 R"(viewBox="100 50 20 10")");
    EXPECT_EQ(at(image, 0.2, 0.2), red);
    EXPECT_EQ(at(image, 9.8, 4.8), red);
    EXPECT_EQ(at(image, 10.2, 4.8), white);
    EXPECT_EQ(at(image, 9.8, 5.2), white);
}

TEST(SvgPicture, WithoutAViewBoxCountsInMillimetres) {
    const QImage image = painted(R"(<rect x="5" y="0" width="10" height="5" fill="#f00"/>)", "");
    EXPECT_EQ(at(image, 5.2, 4.8), red);
    EXPECT_EQ(at(image, 4.8, 4.8), white);
}

TEST(SvgPicture, ReadsPathsOfAbsoluteAndRelativeSteps) {
    // A square by M L H h v Z: from 2,2 right to 8, down by 4, left by 6, home.
    for (const char* path : {"M2,2 L8,2 L8,6 L2,6 Z", "M2 2 H8 v4 h-6 Z", "M2,2H8v4h-6Z",
                             "M2.0,2.0 L8.0 2.0 v4 H2 Z"}) {
        const QImage image =
            painted("<path d=\"" + std::string(path) + "\" fill=\"#f00\" stroke=\"none\"/>");
        EXPECT_EQ(at(image, 2.3, 2.3), red) << path;
        EXPECT_EQ(at(image, 7.7, 5.7), red) << path;
        EXPECT_EQ(at(image, 8.3, 4), white) << path;
        EXPECT_EQ(at(image, 5, 6.3), white) << path;
        EXPECT_EQ(at(image, 5, 1.7), white) << path;
    }
}

TEST(SvgPicture, AfterZGoesOnFromWhereThePathBegan) {
    // SVG 1.1, 8.3.3: what follows a closepath starts at the subpath's first point.
    const QImage image =
        painted(R"(<path d="M2,2 L8,2 L8,6 Z h-1 v6 h1 Z" fill="#f00" stroke="none"/>)");
    EXPECT_EQ(at(image, 1.5, 5), red);
    EXPECT_EQ(at(image, 7.5, 7), white);
}

TEST(SvgPicture, LeavesOpeningsFreeByTheEvenOddRule) {
    const auto ring = [](const std::string& rule) {
        return painted("<path d='M2,2 H12 v6 h-10 Z M4,4 H10 v2 h-6 Z' fill='#f00' " + rule + "/>");
    };
    EXPECT_EQ(at(ring("fill-rule='evenodd'"), 7, 5), white);
    EXPECT_EQ(at(ring("fill-rule='evenodd'"), 3, 5), red);
    EXPECT_EQ(at(ring(""), 7, 5), red) << "both loops run the same way round";
}

TEST(SvgPicture, GroupsHandDownTheirLookAndOnlyToWhatTheyHold) {
    const QImage image = painted(
        R"(<g fill="#f00"><rect x="0" y="0" width="5" height="5"/>
           <g fill="#00f"><rect x="5" y="0" width="5" height="5"/></g>
           <rect x="10" y="0" width="5" height="5"/></g>
           <rect x="15" y="0" width="5" height="5"/>)");
    EXPECT_EQ(at(image, 2, 2), red);
    EXPECT_EQ(at(image, 7, 2), QColor(0, 0, 255));
    EXPECT_EQ(at(image, 12, 2), red);
    EXPECT_EQ(at(image, 17, 2), black) << "SVG's own colour where none is given";
}

TEST(SvgPicture, ClipsAGroupAndNothingBehindIt) {
    const QImage image = painted(
        "<clipPath id='c'><circle cx='5' cy='5' r='3'/></clipPath>"
        "<g clip-path='url(#c)'><rect x='0' y='0' width='20' height='10' fill='#f00'/></g>"
        "<rect x='15' y='0' width='5' height='10' fill='#00f'/>");
    EXPECT_EQ(at(image, 5, 5), red);
    EXPECT_EQ(at(image, 7.7, 5), red);
    EXPECT_EQ(at(image, 8.4, 5), white);
    EXPECT_EQ(at(image, 7.5, 7.5), white) << "a circle, not its box";
    EXPECT_EQ(at(image, 16, 5), QColor(0, 0, 255));
}

TEST(SvgPicture, AClipWithAnOpeningShowsNothingInIt) {
    const QImage image = painted(
        "<clipPath id='c'><path clip-rule='evenodd' d='M2,2 H12 v6 h-10 Z M4,4 H10 v2 h-6 Z'/>"
        "</clipPath><g clip-path='url(#c)'>"
        "<rect x='0' y='0' width='20' height='10' fill='#f00'/></g>");
    EXPECT_EQ(at(image, 3, 5), red);
    EXPECT_EQ(at(image, 7, 5), white);
}

TEST(SvgPicture, CirclesAndRoundedCornersLieWhereGiven) {
    const QImage image = painted(
        R"(<circle cx="4" cy="5" r="3" fill="#f00"/>
           <rect x="10" y="1" width="8" height="8" rx="3" fill="#00f"/>)");
    EXPECT_EQ(at(image, 1.2, 5), red);
    EXPECT_EQ(at(image, 0.8, 5), white);
    EXPECT_EQ(at(image, 4, 7.8), red);
    // The corner's arc passes 3 (1 - sqrt(1/2)) = 0.88 mm inside along both ways.
    EXPECT_EQ(at(image, 10.6, 1.6), white);
    EXPECT_EQ(at(image, 11.2, 2.2), QColor(0, 0, 255));
}

TEST(SvgPicture, LinesAreAsWideAsGivenInTheirOwnColourAndStrength) {
    const QImage image = painted(
        R"(<path d="M0,2 H20" fill="none" stroke="#f00" stroke-width="2"/>
           <path d="M0,7 H20" fill="none" stroke="#f00" stroke-width="2" stroke-opacity="0.5"/>)");
    EXPECT_EQ(at(image, 10, 1.2), red);
    EXPECT_EQ(at(image, 10, 2.8), red);
    EXPECT_EQ(at(image, 10, 3.2), white);
    EXPECT_EQ(at(image, 10, 0.8), white);
    // Half of red over white: the other two channels half way.
    EXPECT_NEAR(at(image, 10, 7).green(), 127, 2);
    EXPECT_EQ(at(image, 10, 7).red(), 255);
}

TEST(SvgPicture, FillOpacityMixesWithWhatLiesBelow) {
    const QImage image =
        painted(R"(<rect x="0" y="0" width="20" height="10" fill="#000" fill-opacity="0.25"/>)");
    EXPECT_NEAR(at(image, 5, 5).red(), 191, 2);  // 255 (1 - 0.25)
}

TEST(SvgPicture, DashesAreLengthsOfThePictureWhateverTheWidth) {
    // 3 of ink and 2 of gap along 20 units, for a thin and a wide line alike.
    for (const std::string width : {"0.4", "2"}) {
        const QImage image = painted("<path d='M0,5 H20' fill='none' stroke='#f00' stroke-width='" +
                                     width + "' stroke-dasharray='3 2'/>");
        for (const double ink : {0.3, 2.7, 5.3, 7.7, 10.5, 17.5})
            EXPECT_EQ(at(image, ink, 5), red) << width << " " << ink;
        for (const double gap : {3.3, 4.7, 8.3, 9.7, 19.0})
            EXPECT_EQ(at(image, gap, 5), white) << width << " " << gap;
    }
}

/// The columns that hold ink: first and last [units].
std::pair<double, double> inked(const QImage& image) {
    double low = 1e9, high = -1e9;
    for (int x = 0; x < image.width(); ++x)
        for (int y = 0; y < image.height(); ++y)
            if (image.pixelColor(x, y).red() < 128) {
                low = std::min(low, double(x) / dots);
                high = std::max(high, double(x + 1) / dots);
            }
    return {low, high};
}

TEST(SvgPicture, WordsBeginEndOrHaveTheirMiddleAtTheirPlace) {
    // "HHH" is symmetrical and its side bearings are under a tenth of a letter.
    const auto words = [](const char* anchor) {
        return inked(painted("<text x='10' y='7' font-size='3' text-anchor='" +
                             std::string(anchor) + "'>HHH</text>"));
    };
    const auto start = words("start"), middle = words("middle"), end = words("end");
    EXPECT_NEAR(start.first, 10.0, 0.35);
    EXPECT_GT(start.second, 14.0);
    EXPECT_NEAR(0.5 * (middle.first + middle.second), 10.0, 0.15);
    EXPECT_NEAR(end.second, 10.0, 0.35);
    EXPECT_LT(end.first, 6.0);
    for (const auto& each : {middle, end})
        EXPECT_NEAR(each.second - each.first, start.second - start.first, 0.15);
}

TEST(SvgPicture, WordsSayWhatTheirEntitiesMean) {
    // "&lt;" is one letter: as wide as that, and nowhere near as "&amp;lt;".
    const auto one = inked(painted(R"(<text x="1" y="7" font-size="5">&lt;</text>)"));
    const auto four = inked(painted(R"(<text x="1" y="7" font-size="5">&amp;lt;</text>)"));
    EXPECT_LT(one.second - one.first, 5.0);
    EXPECT_GT(four.second - four.first, 1.5 * (one.second - one.first));
}

TEST(SvgPicture, LeavesOutWhatItDoesNotKnowAndDrawsWhatFollows) {
    const QImage image = painted(
        R"(<style>rect { fill: blue }</style><title>words</title>
           <polygon points="0,0 20,0 20,10"><desc>deep<b>er</b></desc></polygon>
           <rect x="0" y="0" width="5" height="5" fill="#f00"/>)");
    EXPECT_EQ(at(image, 2, 2), red);
    EXPECT_EQ(at(image, 15, 1), white);
}

TEST(SvgPicture, OfBrokenTextDrawsWhatStandsBeforeTheFault) {
    for (const char* broken : {"", "<", "no picture", "<svg>", "<svg width=\"\"/>",
                               "<svg viewBox=\"0 0 nan 5\"/>", "<svg viewBox=\"0 0 20\"/>"}) {
        QImage image(10, 10, QImage::Format_RGB32);
        image.fill(Qt::white);
        QPainter painter(&image);
        SvgPicture(broken).paint(painter, QRectF(0, 0, 10, 10));
        EXPECT_EQ(image.pixelColor(5, 5), white) << broken;
    }
    const QImage image =
        painted(R"(<rect x="0" y="0" width="5" height="5" fill="#f00"/><g><path d="M0,0 L</g>)");
    EXPECT_EQ(at(image, 2, 2), red);
    EXPECT_EQ(at(image, 15, 5), white);
}

TEST(SvgPicture, PathsOfOtherCommandsEnd) {
    for (const char* path : {"C1,1 2,2 3,3", "M", "MMMM", "L1e5,2", "M1,2 \x07", "---", "Z Z Z"})
        painted("<path d=\"" + std::string(path) + "\"/>");
    const QImage image = painted(R"(<path d="Q M2,2 H8 v4 h-6 Z" fill="#f00"/>)");
    EXPECT_EQ(at(image, 5, 4), red);
}

/// A picture's size in a document, by its name there.
QSizeF size_of(PictureHandler& handler, const char* name) {
    QTextDocument document;
    QTextImageFormat format;
    format.setName(QString::fromLatin1(name));
    return handler.intrinsicSize(&document, 0, format);
}

TEST(PictureHandler, GivesEachItsOwnSizeAndShrinksWhatIsTooWide) {
    // By hand, 4 device units to the mm and 100 mm to write on: 50 mm stay, 200 mm become 100.
    PictureHandler handler(
        {SvgPicture(R"(<svg width="50mm" height="30mm"/>)"),
         SvgPicture(R"(<svg width="200mm" height="30mm"/>)"), SvgPicture("broken")},
        4.0, 100.0);
    EXPECT_EQ(size_of(handler, "picture:0"), QSizeF(200, 120));
    EXPECT_EQ(size_of(handler, "picture:1"), QSizeF(400, 60));
    EXPECT_TRUE(size_of(handler, "picture:2").isEmpty());
    for (const char* unknown :
         {"picture:3", "picture:-1", "picture:", "", "photo.png", "picture:99999999999999999999"})
        EXPECT_TRUE(size_of(handler, unknown).isEmpty()) << unknown;
}

}  // namespace
}  // namespace tearline::paper
