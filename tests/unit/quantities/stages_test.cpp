#include "core/quantities/stages.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace tearline::quantities {
namespace {

using Counts = std::vector<std::size_t>;

TEST(Stages, FourPliesOfMatAreOneStage) {
    // SOURCES.md section 4: 3-4 x 450 g/m2 mat within 4.3 mm.
    EXPECT_EQ(divide_into_stages(std::vector<double>(4, 1.050781), 4.3), (Counts{4}));
    EXPECT_EQ(divide_into_stages(std::vector<double>(8, 1.050781), 4.3), (Counts{4, 4}));
}

TEST(Stages, EarlierOnesAreThickerOnTies) {
    // By hand: five equal plies, at most four a stage: 3 + 2 has the thinner maximum than 4 + 1.
    EXPECT_EQ(divide_into_stages(std::vector<double>(5, 1.0), 4.3), (Counts{3, 2}));
    EXPECT_EQ(divide_into_stages(std::vector<double>(10, 1.0), 4.3), (Counts{4, 4, 2}));
}

TEST(Stages, OrderOfLayingIsKept) {
    // By hand: 1 1 | 3 and 1 1 3 alone do not fit 4 together; 2 stages, thinnest maximum 3.
    EXPECT_EQ(divide_into_stages(std::vector<double>{1.0, 1.0, 3.0}, 4.0), (Counts{2, 1}));
}

TEST(Stages, ThickPlyStandsAlone) {
    EXPECT_EQ(divide_into_stages(std::vector<double>{1.0, 5.0, 1.0}, 4.0), (Counts{1, 1, 1}));
}

TEST(Stages, NoPliesNoStages) {
    EXPECT_TRUE(divide_into_stages({}, 4.3).empty());
}

TEST(Stages, WallAndCeilingTakeLess) {
    job::Job job;
    job.shop.stage_thickness = 4.0;
    EXPECT_DOUBLE_EQ(stage_limit(job), 4.0);
    job.layup.position = job::Position::vertical;
    EXPECT_DOUBLE_EQ(stage_limit(job), 3.0);
    job.layup.position = job::Position::overhead;
    EXPECT_DOUBLE_EQ(stage_limit(job), 2.0);
}

std::vector<double> heights(const std::vector<double>& plies, const Counts& counts) {
    std::vector<double> out;
    std::size_t at = 0;
    for (const std::size_t count : counts) {
        double height = 0.0;
        for (std::size_t i = 0; i < count; ++i) height += plies[at++];
        out.push_back(height);
    }
    return out;
}

/// Every way to cut the plies, by brute force: fewest, thinnest maximum, thickest earlier.
Counts best_by_trying_all(const std::vector<double>& plies, double limit) {
    Counts best;
    std::vector<double> best_heights;
    const std::size_t cuts = plies.size() - 1;
    for (std::size_t mask = 0; mask < (std::size_t{1} << cuts); ++mask) {
        Counts counts{1};
        for (std::size_t i = 0; i < cuts; ++i)
            if (((mask >> i) & 1u) != 0)
                counts.push_back(1);
            else
                ++counts.back();
        const auto tall = heights(plies, counts);
        const double maximum = *std::max_element(tall.begin(), tall.end());
        if (maximum > limit + 1e-6) continue;
        const auto better = [&] {
            if (best.empty() || counts.size() != best.size())
                return best.empty() || counts.size() < best.size();
            const double old = *std::max_element(best_heights.begin(), best_heights.end());
            if (std::abs(maximum - old) > 1e-9) return maximum < old;
            return std::lexicographical_compare(best_heights.begin(), best_heights.end(),
                                                tall.begin(), tall.end());
        };
        if (better()) best = counts, best_heights = tall;
    }
    return best;
}

TEST(Stages, MatchTryingEveryDivision) {
    // Second route: all 2^(n-1) divisions of random stacks in tenths of a mm.
    constexpr unsigned start = 4301;
    RecordProperty("start_value", start);
    std::mt19937 random(start);
    std::uniform_int_distribution<int> tenths(5, 15), plies(1, 11);
    for (int run = 0; run < 200; ++run) {
        std::vector<double> stack(static_cast<std::size_t>(plies(random)));
        for (double& ply : stack) ply = tenths(random) / 8.0;
        EXPECT_EQ(divide_into_stages(stack, 4.3), best_by_trying_all(stack, 4.3))
            << "start value " << start << " run " << run;
    }
}

}  // namespace
}  // namespace tearline::quantities
