#include "core/batch/summary_page.h"

#include <gtest/gtest.h>

#include <regex>

#include "tests/support/words_in.h"

namespace tearline::batch::summary_page_test {
namespace {

using test::count;
using test::says;
using Figures = std::map<std::string, double>;

ResultRow row(const std::string& job, const Status& status, const Figures& figures = {}) {
    ResultRow out;
    out.job = job;
    out.status = status;
    out.figures = figures;
    return out;
}

const Status done{}, bad{Status::Kind::exited, 3}, unsafe{Status::Kind::exited, 4},
    fault{Status::Kind::exited, 1}, killed{Status::Kind::by_signal, 0},
    stopped{Status::Kind::over_limit, 0};

ResultRow to_decide(const std::string& job, const std::vector<std::string>& codes) {
    ResultRow out = row(job, done);
    out.to_decide = codes;
    return out;
}

/// A row of the table read back: its class and what stands in its cells.
struct ReadRow {
    std::string look;
    std::vector<std::string> cells;
};

std::vector<ReadRow> rows_of(const std::string& page) {
    const std::regex line(R"re(<tr class="([a-z]+)">(.*)</tr>)re"),
        cell(R"re(<td[^>]*>(.*?)</td>)re");
    std::vector<ReadRow> rows;
    for (std::sregex_iterator i(page.begin(), page.end(), line), end; i != end; ++i) {
        const std::string inside = (*i)[2];
        ReadRow read{(*i)[1], {}};
        for (std::sregex_iterator c(inside.begin(), inside.end(), cell); c != end; ++c)
            read.cells.push_back((*c)[1]);
        rows.push_back(std::move(read));
    }
    return rows;
}

/// The one row of a page of one result.
ReadRow shown(const ResultRow& of) {
    const auto rows = rows_of(summary_page({{of}, 0}));
    EXPECT_EQ(rows.size(), 1u);
    return rows.empty() ? ReadRow{} : rows.front();
}

TEST(SummaryWords, SayHowManyEndedHow) {
    ResultRows results;
    results.rows = {row("a", done),  to_decide("b", {"no-floor"}),
                    row("c", bad),   row("d", unsafe),
                    row("e", fault), row("f", killed),
                    row("g", done)};
    EXPECT_EQ(summary_words(results),
              "7 jobs: 3 done (1 with something to decide first), 2 refused, 2 failed");
    results.twice = 4;
    EXPECT_TRUE(summary_words(results).ends_with(
        ", 2 failed; 4 more lines are of jobs that stand in several files"));
    results.twice = 1;
    EXPECT_TRUE(summary_words(results).ends_with(
        ", 2 failed; 1 more line is of a job that stands in several files"));
}

TEST(SummaryWords, LeaveOutWhatThereIsNoneOf) {
    EXPECT_EQ(summary_words({{row("a", done)}, 0}), "1 job: 1 done");
    EXPECT_EQ(summary_words({{row("a", bad), row("b", bad)}, 0}), "2 jobs: 0 done, 2 refused");
    EXPECT_EQ(summary_words({{}, 0}), "0 jobs: 0 done");
}

TEST(SummaryPage, PutsFirstWhatNeedsAPerson) {
    ResultRows results;
    results.rows = {row("calm", done),        to_decide("decide", {"no-floor"}),
                    row("no answer", unsafe), row("memory", stopped),
                    row("also calm", done),   row("wrong", bad),
                    row("fell", killed),      row("fault", fault)};
    std::string order;
    for (const ReadRow& read : rows_of(summary_page(results)))
        order += read.cells[0] + ":" + read.look + " ";
    // Those alike stay in the order of their names' file.
    EXPECT_EQ(order,
              "memory:failed fell:failed fault:failed no answer:refused wrong:refused "
              "decide:decide calm:done also calm:done ");
}

TEST(SummaryPage, SaysInWordsHowEachEnded) {
    EXPECT_EQ(shown(row("a", done)).cells[1], "done");
    EXPECT_EQ(shown(to_decide("a", {"x"})).cells[1], "stop and decide");
    EXPECT_EQ(shown(row("a", bad)).cells[1], "refused: bad input (3)");
    EXPECT_EQ(shown(row("a", unsafe)).cells[1], "refused: no safe answer (4)");
    EXPECT_EQ(shown(row("a", fault)).cells[1], "failed (1)");
    EXPECT_EQ(shown(row("a", killed)).cells[1], "failed (signal)");
    EXPECT_EQ(shown(row("a", stopped)).cells[1], "failed (limit)");
}

TEST(SummaryPage, ShowsEveryFigureUnderItsHead) {
    // Each figure is another, so that none can stand in another's place; strain in percent.
    const ResultRow of = row("a", done,
                             {{"ground_area_m2", 0.12345},
                              {"glass_g", 678.6},
                              {"resin_g", 901.4},
                              {"laid_thickness_mm", 5.67},
                              {"strain_max", 0.01234},
                              {"shear_max", 23.44},
                              {"seconds", 3.456},
                              {"peak_MB", 78.9}});
    const std::vector<std::string> cells = shown(of).cells;
    const std::vector<std::string> expected{"a",    "done", "0.123", "679", "901", "5.7",
                                            "1.23", "23.4", "3.46",  "79",  ""};
    EXPECT_EQ(cells, expected);
    EXPECT_EQ(count(summary_page({{of}, 0}), "<th "), expected.size()) << "a head a column";
}

TEST(SummaryPage, LeavesACellBlankWhereThereIsNoFigure) {
    const auto cells = shown(row("a", bad, {{"seconds", 0.25}})).cells;
    ASSERT_EQ(cells.size(), 11u);
    for (const std::size_t blank : {2u, 3u, 4u, 5u, 6u, 7u, 9u}) EXPECT_EQ(cells[blank], "");
    EXPECT_EQ(cells[8], "0.25");
}

TEST(SummaryPage, TellsMessageAndCodesWithTheirMarksEscaped) {
    ResultRow of = to_decide("<a>", {"no-floor", "patch-weaker"});
    EXPECT_EQ(shown(of).cells[10], "no-floor, patch-weaker");
    of.message = "5 < 6 & so";
    const auto cells = shown(of).cells;
    EXPECT_EQ(cells[0], "&lt;a&gt;");
    EXPECT_EQ(cells[10], "5 &lt; 6 &amp; so, no-floor, patch-weaker");
}

/// What a browser makes of %XX.
std::string decoded(const std::string& link) {
    std::string out;
    for (std::size_t i = 0; i < link.size(); ++i)
        if (link[i] == '%') {
            out += static_cast<char>(std::stoi(link.substr(i + 1, 2), nullptr, 16));
            i += 2;
        } else {
            out += link[i];
        }
    return out;
}

TEST(SummaryPage, LinksAJobToItsSheetWhateverItsFolderIsCalled) {
    // RFC 3986: a path's segment holds no blank, '?', '#', '%' or '"' unescaped.
    ResultRow of = row("one", done);
    of.folder = "plans/3f/a b?c#d%e\"f&g_h\xC3\xA9-1.2";
    const std::string cell = shown(of).cells[0];
    const std::regex anchor(R"re(<a href="([^"]*)">one</a>)re");
    std::smatch found;
    ASSERT_TRUE(std::regex_match(cell, found, anchor)) << cell;
    const std::string link = found[1];
    EXPECT_EQ(link.find_first_of(" ?#\"&<>"), std::string::npos) << link;
    for (const char c : link) EXPECT_LT(static_cast<unsigned char>(c), 0x80) << link;
    EXPECT_EQ(decoded(link), of.folder + "/job-sheet.html");
    EXPECT_TRUE(link.starts_with("plans/3f/a%20b")) << "slashes part folders";
}

TEST(SummaryPage, LinksNothingWhereThereIsNoFolder) {
    EXPECT_EQ(shown(row("one", done)).cells[0], "one");
}

TEST(SummaryPage, ShowsTwoThousandRowsAndSaysWhereTheRestIs) {
    ResultRows results;
    for (int i = 0; i < 2000; ++i) results.rows.push_back(row(std::to_string(i), done));
    EXPECT_FALSE(says(summary_page(results), "The first 2000"));
    results.rows.push_back(row("the one that failed", fault));
    const std::string page = summary_page(results);
    EXPECT_TRUE(says(page, "The first 2000 of 2001; all of them are in summary.csv."));
    EXPECT_EQ(count(page, "<tr class="), 2000u);
    EXPECT_TRUE(says(page, "the one that failed")) << "what is left out is the calmest";
    EXPECT_FALSE(says(page, "<td>1999</td>"));
}

TEST(SummaryPage, DrawsFiguresOfThoseThatAreDoneAlone) {
    const Figures figures{{"glass_g", 500.0}};
    EXPECT_EQ(count(summary_page({{row("a", bad, figures), row("b", fault, figures)}, 0}), "<svg"),
              0u);
    EXPECT_EQ(count(summary_page({{row("a", done, figures)}, 0}), "<svg"), 1u);
}

TEST(SummaryPage, DrawsInRedWhatHasSomethingToDecide) {
    ResultRow calm = row("a", done, {{"resin_g", 2000.0}}), decide = to_decide("b", {"x"});
    decide.figures = calm.figures;
    const std::string one = summary_page({{calm}, 0}), both = summary_page({{calm, decide}, 0});
    const auto bars = [](const std::string& page) { return count(page, "<rect"); };
    EXPECT_EQ(bars(one), 1u);
    EXPECT_EQ(bars(both), 2u);
    EXPECT_TRUE(says(both, rank_colour(WarningRank::stop)));
}

TEST(SummaryPage, DrawsMassesInKilogramsAndStrainInPercent) {
    // The axis goes as far as the one figure: 2.4 kg in bins of 0.2, 3.1 % in bins of 0.2.
    const std::string page =
        summary_page({{row("a", done, {{"resin_g", 2400.0}, {"strain_max", 0.031}})}, 0});
    EXPECT_TRUE(says(page, ">Resin, kg<"));
    EXPECT_TRUE(says(page, ">2.4<")) << page;
    EXPECT_TRUE(says(page, ">Greatest strain of mat, %<"));
    EXPECT_TRUE(says(page, ">3.0<"));
}

TEST(SummaryPage, KeepsItsCaution) {
    const std::string page = summary_page({{row("a", done)}, 0});
    EXPECT_TRUE(says(page, "no work sheet"));
    EXPECT_TRUE(says(page, "licensed practice"));
    EXPECT_TRUE(says(page, "class=\"caution\""));
    EXPECT_TRUE(says(page, "<p>1 job: 1 done.</p>"));
}

}  // namespace
}  // namespace tearline::batch::summary_page_test
