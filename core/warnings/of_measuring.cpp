#include "core/warnings/of_measuring.h"

#include <algorithm>
#include <cmath>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/job/figure_words.h"

namespace tearline::warn {

namespace {

Sentence figure_named(const std::string& key) {
    return plainly(key, job::figure_words(key));
}

Sentence contradicted(const SuspiciousFigure& f) {
    const std::string figure = fixed(f.figure, 1) + " mm";
    return plainly("value " + figure + " (" + f.place + ")", job::figure_words(f.key)) +
           Sentence("", ", measured as " + figure,
                    ", measured as " + length_text(f.figure, 1, Units::us)) +
           ": the figures round it say about " + said_length(f.expected, 1) +
           "; measure there again or look for a slip of the pen";
}

/// What 1 mm of error does [mm]; a figure that moves an edge without end tells nothing of it.
Sentence rate_words(double mm) {
    constexpr double tells_nothing = 20.0;
    return mm > tells_nothing ? "more than " + said_length(tells_nothing, 0) : said_length(mm, 2);
}

/// What errors of reading do to the templates.
Sentence rates_words(const std::vector<MeasuredHull::Rate>& rates) {
    constexpr std::size_t most_told = 6;  // a batten's figures; a table's are in plan.json
    if (rates.empty()) return {};
    Sentence words =
        "; " + said_length(1.0, 0) + " of error moves an edge of the widest template by";
    if (rates.size() > most_told) {
        const auto most = std::max_element(rates.begin(), rates.end(),
                                           [](auto& a, auto& b) { return a.edge < b.edge; });
        const Sentence moved =
            most->edge < 0.005 ? "less than " + said_length(0.01, 2) : rate_words(most->edge);
        return words + " " + moved + " at most, in " + figure_named(most->key) +
               "; the others are in plan.json";
    }
    for (std::size_t i = 0; i < rates.size(); ++i)
        words +=
            (i > 0 ? ", " : ": ") + figure_named(rates[i].key) + " " + rate_words(rates[i].edge);
    return words;
}

/// How near a surface passes [mm]: no nearer than anybody reads.
Sentence within_words(double mm) {
    constexpr double read = 0.1;
    return said_thickness(std::max(mm, read), 1);
}

/// What a slip in a table must be to be found.
Sentence told_apart(const std::optional<double>& tells) {
    if (!tells) return {};
    if (std::isinf(*tells))
        return "; there are too few figures to tell a wrong one by the others: measure more, or "
               "each twice";
    return "; by the way the figures scatter, one that is wrong by less than " +
           said_length(*tells, 1) + " would not stand out";
}

}  // namespace

Sentence SuspiciousFigure::words() const {
    return plainly(key + ": ", "") + contradicted(*this) + "; the surface leaves it out";
}

std::string SuspiciousFigure::refusal() const {
    return contradicted(*this).told;
}

Sentence BeyondTheBatten::words() const {
    return "the repair reaches " + said_length(beyond, 0) +
           " beyond the ends of the batten, where nothing was measured: use a longer batten";
}

Sentence MeasuredHullOff::words() const {
    return "the hull that is drawn misses a figure it was measured by: " + figure_named(key) +
           " was measured as " + said_length(figure, 1) + " and it has " + said_length(passes, 1) +
           " there, " + said_length(std::abs(figure - passes), 1) +
           " off: measure there and round it again before anything is cut";
}

Sentence MeasuredHull::words() const {
    Sentence words = "the hull is drawn from " + std::to_string(figures) +
                     (figures == 1 ? " measured figure" : " measured figures");
    if (!misses)
        words += " and passes within " + within_words(off) + " of every one (" +
                 figure_named(farthest) + " the farthest)";
    // On the sheet the rates stand in the table of what was measured.
    return words + plainly(rates_words(rates).told, "") + told_apart(tells);
}

Sentence TapesMeetFlat::words() const {
    const std::string marks = first + " and " + second;
    const Sentence where = plainly(key, "a point taped from " + marks);
    const std::string instead =
        "use another mark, one that stands off to the side, so that the tapes cross at 30 degrees "
        "or more";
    if (!moves)
        return where + ": the tapes from " + marks +
               " run in one line, so they do not say how far beside it the point lies: " + instead;
    return where + ": the tapes meet so flat that " + said_length(1.0, 0) +
           " of error moves the point " + said_length(*moves, 0) + "; " + instead;
}

Sentence MarkInRepair::words() const {
    return plainly("marks." + name + ": lies", "mark " + name + " lies") +
           " inside what the repair touches and will be lost; set it farther out";
}

Sentence OutlineBulges::words() const {
    return "the smooth outline lies up to " + said_length(beyond, 1) +
           " outside the straight lines between its points and holds " + fixed(more, 0) +
           " % more than they do: where it should not reach so far, " +
           plainly("write damage.join = \"straight\" (flatten: --join straight)",
                   "have the points joined straight") +
           " or give more points";
}

}  // namespace tearline::warn
