#pragma once
#include <string>

#include "core/plan/plan.h"

/// Words and markup that the parts of the job sheet share.
///
/// The markup is what a browser and the printing program's own text engine both know: headings,
/// paragraphs, tables, lists, and pictures as SVG in place.
namespace tearline::job_sheet {

/// Epoxies have no styrene and no peroxide, and post-cure.
[[nodiscard]] inline bool is_epoxy(const Plan& plan) {
    return plan.job.resin.kind == job::ResinKind::epoxy;
}

[[nodiscard]] std::string tag(const std::string& name, const std::string& content,
                              const std::string& attributes = "");

/// A cell of figures, to the right.
[[nodiscard]] std::string cell(const std::string& content);

/// A cell of words, to the left.
[[nodiscard]] std::string left(const std::string& content);

/// Head cells of a table: a leading '<' in a word sets it to the left.
[[nodiscard]] std::string head(const std::vector<std::string>& words);

/// A section's heading; `fresh` begins a page.
[[nodiscard]] std::string section(const std::string& words, bool fresh = false);

/// A row of two cells: what, how much.
[[nodiscard]] std::string row(const std::string& name, const std::string& value);

/// An empty box to tick, drawn: no font is needed for it.
[[nodiscard]] std::string tick_box();

/// A line to tick off.
[[nodiscard]] std::string to_tick(const std::string& content);

/// Words that stay on one line.
[[nodiscard]] std::string keep(const std::string& words);

/// A figure with its units and words, that breaks before its bracket alone.
[[nodiscard]] std::string unbroken(const std::string& figure);

/// A place to write on, some characters wide.
[[nodiscard]] std::string blank(int characters);

/// A figure in the job's own units first, the other in brackets.
[[nodiscard]] std::string both(const Plan& plan, const std::string& metric, const std::string& us);
[[nodiscard]] std::string mass(const Plan& plan, double grams, int decimals = 0);
/// An amount of what is mixed, by volume where the data sheet measures it so.
[[nodiscard]] std::string mixture(const Plan& plan, double grams);
[[nodiscard]] std::string square(const Plan& plan, double m2);
[[nodiscard]] std::string length(const Plan& plan, double mm, int decimals = 1);
/// A thickness of laminate: thousandths of an inch, for a caliper.
[[nodiscard]] std::string thickness(const Plan& plan, double mm, int decimals = 2);
[[nodiscard]] std::string volume(const Plan& plan, double mL, int decimals = 1);
[[nodiscard]] std::string warmth(const Plan& plan, Celsius temperature);

/// A dose as its tool shows it, with the tool's name.
[[nodiscard]] std::string measured(const quantities::Measured& dose);

/// What is poured into a cup, of epoxy the resin alone: weighed, unless the data sheet's basis or
/// unknown densities ask for a volume; each way with its tool.
[[nodiscard]] std::string poured(const Plan& plan, const quantities::Cup& cup);

/// Ways to measure a dose on one line.
[[nodiscard]] std::string in_line(std::string ways);

/// Of one place of a boat: that the boat's sheet nests and buys for all of them; else nothing.
[[nodiscard]] std::string of_all_places(const Plan& plan);

/// "Boat sheet, cup 7".
[[nodiscard]] std::string boat_cup_words(int cup);

/// What the amounts of `mixture` are of: "resin", of epoxy "resin and hardener together".
[[nodiscard]] std::string mixture_words(const Plan& plan);

/// Hardener of a cup by its tool, and the other ways that it can be measured.
[[nodiscard]] std::string dose(const quantities::Cup& cup);

}  // namespace tearline::job_sheet
