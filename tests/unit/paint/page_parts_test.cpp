#include "core/paper/page_parts.h"

#include <gtest/gtest.h>

#include <QAbstractTextDocumentLayout>
#include <QTextBlock>
#include <QTextDocument>
#include <algorithm>

// What is promised of a sheet's pages: nothing is lost, nothing is split, nothing stands alone.
namespace tearline::paper {
namespace {

QString repeated(const QString& text, int count) {
    QString all;
    for (int i = 0; i < count; ++i) all += QString(text).replace("%", QString::number(i));
    return all;
}

/// Numbered lines of text, and rows of a table.
QString lines(const QString& word, int count) {
    return repeated("<p style='margin:0px'>" + word + " %</p>", count);
}
QString rows(const QString& word, int count) {
    return repeated("<tr><td>" + word + " %</td><td>b</td></tr>", count);
}

class PageParts : public ::testing::Test {
protected:
    /// Lays a text out on an endless page and cuts it into pages of this height.
    void cut(const QString& html, double height) {
        document.setDocumentMargin(0.0);
        document.setHtml(html);
        document.setTextWidth(600.0);
        parts = page_parts(document, height);
    }

    /// The page that shows the middle of the first paragraph with these words; -1: none.
    int page_of(const QString& words) {
        const QTextBlock block = document.find(words).block();
        if (!block.isValid()) return -1;
        const double at = document.documentLayout()->blockBoundingRect(block).center().y();
        for (std::size_t i = 0; i < parts.size(); ++i)
            if (parts[i].body.top < at && at < parts[i].body.bottom) return static_cast<int>(i);
        return -1;
    }

    /// What holds of any document: the bodies are its whole height, one after the other, and no
    /// paragraph is cut.
    void expect_whole() {
        ASSERT_FALSE(parts.empty());
        EXPECT_EQ(parts.front().body.top, 0.0);
        EXPECT_DOUBLE_EQ(parts.back().body.bottom, document.size().height());
        for (std::size_t i = 1; i < parts.size(); ++i)
            EXPECT_EQ(parts[i].body.top, parts[i - 1].body.bottom);
        for (QTextBlock block = document.begin(); block.isValid(); block = block.next()) {
            const QRectF place = document.documentLayout()->blockBoundingRect(block);
            if (block.length() <= 1) continue;
            for (std::size_t i = 1; i < parts.size(); ++i)
                EXPECT_FALSE(place.top() + 0.01 < parts[i].body.top &&
                             parts[i].body.top < place.bottom() - 0.01)
                    << block.text().toStdString();
        }
    }

    /// A table in the middle of rows, on pages of nine.
    void cut_among_rows(const QString& middle, int before, int after) {
        cut("<table>" + rows("row", before) + middle + rows("more", after) + "</table>",
            9.0 * pitch("<table><tr><td>x</td></tr></table>"));
    }

    /// [units] from one line to the next.
    double line() { return pitch("<p style='margin:0px'>x</p>"); }

    /// The same of rows or lines in a document of such pieces.
    double pitch(const QString& piece) {
        QTextDocument two;
        two.setDocumentMargin(0.0);
        two.setHtml(piece + piece + piece + piece);
        two.setTextWidth(600.0);
        return two.size().height() / 4.0;
    }

    QTextDocument document;
    std::vector<PagePart> parts;
};

TEST_F(PageParts, OfAShortTextAreOne) {
    cut("<p>one</p><p>two</p>", 1000.0);
    ASSERT_EQ(parts.size(), 1u);
    EXPECT_EQ(parts[0].head.height(), 0.0);
    expect_whole();
}

TEST_F(PageParts, OfAnEmptyTextAreNone) {
    cut("", 1000.0);
    EXPECT_LE(parts.size(), 1u);
}

TEST_F(PageParts, AreAsFewAsParagraphsAllow) {
    // By hand: a page that holds 10.5 lines of one height holds 10 of them; 95 lines take 10.
    cut(lines("line", 95), 10.5 * line());
    EXPECT_EQ(parts.size(), 10u);
    expect_whole();
}

TEST_F(PageParts, KeepAHeadingWithWhatItHeads) {
    for (int before = 1; before < 12; ++before) {
        cut(lines("line", before) +
                "<h2 style='margin:0px'>HEADING</h2><p style='margin:0px'>BELOW</p>" +
                lines("more", 12),
            9.5 * line());
        EXPECT_EQ(page_of("HEADING"), page_of("BELOW")) << before;
        EXPECT_GE(page_of("HEADING"), 0);
        expect_whole();
    }
}

TEST_F(PageParts, KeepWordsWithTheTableOrListThatTheyIntroduce) {
    for (const char* what : {"<table><tr><td>FIRST</td></tr><tr><td>next</td></tr></table>",
                             "<ul><li>FIRST</li><li>next</li></ul>"})
        for (int before = 4; before < 12; ++before) {
            cut(lines("line", before) + "<p style='margin:0px'>INTRODUCES</p>" + what,
                9.5 * line());
            EXPECT_EQ(page_of("INTRODUCES"), page_of("FIRST")) << before << what;
            expect_whole();
        }
}

QString table(int count, const QString& head = "<tr><th>HEAD</th><th>b</th></tr>") {
    return "<table><thead>" + head + "</thead>" + rows("row", count) + "</table>";
}

TEST_F(PageParts, RepeatATablesHeadOnEveryPageThatBeginsWithinIt) {
    cut(table(2), 1e6);
    const double two = document.size().height();
    cut(table(3), 1e6);
    const double row = document.size().height() - two;
    cut(table(60), 12.4 * row);
    ASSERT_GT(parts.size(), 4u);
    EXPECT_EQ(parts[0].head.height(), 0.0) << "the first has it in its body";
    const QRectF head = document.documentLayout()->blockBoundingRect(document.find("HEAD").block());
    for (std::size_t i = 1; i < parts.size(); ++i) {
        EXPECT_LE(parts[i].head.top, head.top() + 0.01);
        EXPECT_GE(parts[i].head.bottom, head.bottom() - 0.01);
        EXPECT_LE(parts[i].head.height() + parts[i].body.height(), 12.5 * row)
            << "the head takes its room from the page's own";
    }
    EXPECT_EQ(page_of("HEAD"), page_of("row 0"));
    expect_whole();
}

TEST_F(PageParts, BehindATableRepeatNoHead) {
    cut(table(3) + lines("after", 60), 9.5 * line());
    ASSERT_GT(parts.size(), 3u);
    for (std::size_t i = 2; i < parts.size(); ++i) EXPECT_EQ(parts[i].head.height(), 0.0);
}

TEST_F(PageParts, KeepAColouredRowOverAllColumnsWithTheRowBelow) {
    // A stage's own row heads the plies below it; a plain one explains the row above it.
    for (int before = 3; before < 16; ++before) {
        cut_among_rows(
            "<tr><td colspan='2' bgcolor='#e6eef3'>STAGE</td></tr>"
            "<tr><td>BELOW</td><td>b</td></tr><tr><td colspan='2'>EXPLAINS</td></tr>",
            before, 9);
        EXPECT_EQ(page_of("STAGE"), page_of("BELOW")) << before;
        EXPECT_EQ(page_of("BELOW"), page_of("EXPLAINS")) << before;
        expect_whole();
    }
}

TEST_F(PageParts, NeverPartRowsThatOneCellSpans) {
    for (int before = 3; before < 14; ++before) {
        cut_among_rows(
            "<tr><td rowspan='3'>SPANS</td><td>UPPER</td></tr><tr><td>MIDDLE</td></tr>"
            "<tr><td>LOWER</td></tr>",
            before, 6);
        EXPECT_EQ(page_of("UPPER"), page_of("MIDDLE")) << before;
        EXPECT_EQ(page_of("MIDDLE"), page_of("LOWER")) << before;
    }
}

TEST_F(PageParts, GiveWhatIsTallerThanAPageOneOfItsOwn) {
    const QString tall = repeated("tall %<br/>", 30);
    cut("<p style='margin:0px'>before</p><p style='margin:0px'>" + tall +
            "</p><p style='margin:0px'>after</p>",
        9.5 * line());
    ASSERT_EQ(parts.size(), 3u);
    EXPECT_GT(parts[1].body.height(), 9.5 * line()) << "drawn smaller, never cut";
    EXPECT_EQ(page_of("before"), 0);
    EXPECT_EQ(page_of("after"), 2);
    expect_whole();
}

TEST_F(PageParts, EndWhereAllThatBelongsTogetherIsMoreThanAPage) {
    // Headings without end: each keeps to the next, and yet every one is on some page.
    const double heading = pitch("<h2 style='margin:0px'>x</h2>");
    cut(repeated("<h2 style='margin:0px'>heading %.</h2>", 40), 9.5 * heading);
    EXPECT_LE(parts.size(), 6u);
    for (int i = 0; i < 40; ++i) EXPECT_GE(page_of("heading " + QString::number(i) + "."), 0) << i;
    expect_whole();
}

TEST_F(PageParts, OnAPageOfNoHeightStillEnd) {
    cut(table(5) + "<p>after</p>", 0.0);
    EXPECT_GE(parts.size(), 6u);
    expect_whole();
}

}  // namespace
}  // namespace tearline::paper
