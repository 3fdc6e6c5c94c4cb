#include <gtest/gtest.h>

#include <regex>

#include "core/paper/pdf_identity.h"
#include "core/paper/sheet_pdf.h"
#include "core/paper/write_pdf.h"
#include "tests/unit/paper/shapes.h"

// PDF files by their plain parts: page boxes, counts and the information dictionary (ISO 32000-1,
// 7.7.3 and 14.3.3), read with regular expressions and no library that wrote them.
namespace tearline::paper {
namespace {

std::vector<std::pair<double, double>> media_boxes(const std::string& pdf) {
    static const std::regex box(R"(/MediaBox \[0(?:\.0*)? 0(?:\.0*)? ([0-9.]+) ([0-9.]+)\])");
    std::vector<std::pair<double, double>> found;
    for (std::sregex_iterator i(pdf.begin(), pdf.end(), box), end; i != end; ++i)
        found.emplace_back(std::stod((*i)[1]), std::stod((*i)[2]));
    return found;
}

std::size_t count(const std::string& text, const std::string& part) {
    std::size_t found = 0;
    for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
    return found;
}

PrintLayout laid_out(PrintChoice choice = {}) {
    choice.only = {"notes", "1A"};
    auto layout = lay_out_print(disc_set({95}), choice);
    EXPECT_TRUE(layout) << layout.error().message();
    return layout ? *layout : PrintLayout{};
}

TEST(PdfOf, HasAPageOfThePapersOwnSizeForEveryPage) {
    // 72 points are an inch; a page's box is whole points, which is 0.18 mm at most off.
    for (const char* paper : {"A4", "Letter", "A3"})
        for (const double scale : {1.0, 1.05, 0.95}) {
            PrintChoice choice;
            choice.paper = read_paper(paper).value();
            choice.print_scale = scale;
            const PrintLayout layout = laid_out(choice);
            const auto pdf = pdf_of(layout);
            ASSERT_TRUE(pdf);
            const auto boxes = media_boxes(*pdf);
            ASSERT_EQ(boxes.size(), layout.pages.size()) << paper;
            for (const auto& [width, height] : boxes) {
                EXPECT_NEAR(width * 25.4 / 72.0, choice.paper.width, 0.18) << "whatever the scale";
                EXPECT_NEAR(height * 25.4 / 72.0, choice.paper.height, 0.18);
            }
        }
}

TEST(PdfOf, IsTheSameBytesEachTime) {
    const PrintLayout layout = laid_out();
    EXPECT_EQ(pdf_of(layout).value(), pdf_of(layout).value());
    EXPECT_EQ(pdf_of(layout).value().substr(0, 5), "%PDF-");
}

TEST(PdfOf, NothingIsRefused) {
    const auto pdf = pdf_of(PrintLayout{});
    ASSERT_FALSE(pdf);
    EXPECT_EQ(pdf.error().message(), "print: there is nothing to print");
}

TEST(ForgetTheTime, WritesOneTimeOverEveryOtherAndKeepsAllElse) {
    std::string pdf =
        "a /CreationDate (D:20261130081502+02'00') b /ModDate (D:19991231235959Z) 2026 c";
    const std::size_t length = pdf.size();
    forget_the_time(pdf);
    EXPECT_EQ(pdf,
              "a /CreationDate (D:20000101000000+00'00') b /ModDate (D:20000101000000Z) "
              "2026 c");
    EXPECT_EQ(pdf.size(), length) << "the file's table of places stays true";
    // West of Greenwich the zone's sign is another; Qt 6.8 says the time again as metadata.
    std::string west =
        "/CreationDate (D:20261130081502-05'00') xmp:CreateDate=\"2026-11-30T08:15:02-05:00\" -1";
    forget_the_time(west);
    EXPECT_EQ(
        west,
        "/CreationDate (D:20000101000000+00'00') xmp:CreateDate=\"2000-01-01T00:00:00+00:00\" -1");
    std::string cut_off = "/CreationDate (D:2026";
    forget_the_time(cut_off);
    EXPECT_EQ(cut_off, "/CreationDate (D:2000");
}

/// A sheet as it is written: title and body.
std::string sheet(const std::string& body, const std::string& title = "Curlew") {
    return "<!doctype html><html><head><title>" + title + "</title></head><body>" + body +
           "</body></html>";
}

Paper paper_of(const char* name) {
    return read_paper(name).value();
}

TEST(SheetPdf, IsPagesOfThePaper) {
    std::string body;
    for (int i = 0; i < 200; ++i) body += "<p>line " + std::to_string(i) + "</p>";
    for (const char* paper : {"A4", "Letter"}) {
        const auto pdf = sheet_pdf(sheet(body), paper_of(paper));
        ASSERT_TRUE(pdf) << pdf.error().message();
        const auto boxes = media_boxes(*pdf);
        // 200 paragraphs of 9 pt and 6 px between take 200 x 5.3 mm = 1.06 m: 4 pages, or 5.
        EXPECT_GE(boxes.size(), 4u);
        EXPECT_LE(boxes.size(), 6u);
        for (const auto& [width, height] : boxes) {
            EXPECT_NEAR(width * 25.4 / 72.0, paper_of(paper).width, 0.18);
            EXPECT_NEAR(height * 25.4 / 72.0, paper_of(paper).height, 0.18);
        }
    }
}

TEST(SheetPdf, OfNoSheetOrOnARollIsRefusedInWords) {
    for (const char* none : {"", "<html></html>", "<body></body>", "<body>no end"}) {
        const auto pdf = sheet_pdf(none, paper_of("A4"));
        ASSERT_FALSE(pdf) << none;
        EXPECT_EQ(pdf.error().message(), "job-sheet.html: holds no job sheet; run `tearline plan`");
    }
    const auto roll = sheet_pdf(sheet("<p>words</p>"), paper_of("roll 914"));
    ASSERT_FALSE(roll);
    EXPECT_EQ(roll.error().message(),
              "roll 914 mm: a job sheet is printed on sheets, A4 or Letter");
}

TEST(SheetPdf, ItsTitleIsWordsAndNoMarkup) {
    // UTF-16 with a byte order mark in hex or octets, as text strings of PDF are: "A & B" holds the
    // ampersand alone, and no "amp".
    const auto pdf = sheet_pdf(sheet("<p>words</p>", "A &amp; B"), paper_of("A4"));
    ASSERT_TRUE(pdf);
    const auto from = pdf->find("/Title ");
    ASSERT_NE(from, std::string::npos);
    const std::string title = pdf->substr(from, pdf->find('\n', from) - from);
    EXPECT_EQ(count(title, "a"), 0u) << title;
    EXPECT_NE(title.find('&'), std::string::npos) << title;
}

TEST(SheetPdf, StandsAnyText) {
    // What a job's texts may hold reaches the sheet as entities or letters; none may end the print.
    std::string deep;
    for (int i = 0; i < 200; ++i) deep += "<div>";
    for (const std::string& body :
         {std::string("<p>\x01\x02 \xff\xfe</p>"), std::string("<svg width=\"1mm\"></svg>"),
          std::string("<svg never closed"), std::string("<span class=\"keep\">a-b"),
          "<p>" + std::string(5000, 'W') + "</p>", deep,
          std::string("<table><tr><td></td></tr></table>"), std::string(" ")}) {
        const auto pdf = sheet_pdf(sheet(body), paper_of("A4"));
        ASSERT_TRUE(pdf) << body.substr(0, 40);
        EXPECT_GE(media_boxes(*pdf).size(), body == " " ? 0u : 1u) << body.substr(0, 40);
    }
}

}  // namespace
}  // namespace tearline::paper
