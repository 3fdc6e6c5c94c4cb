#pragma once
#include <string>

#include "core/plan/plan.h"

/// The parts of the job sheet in the order in which they stand.
namespace tearline::job_sheet {

/// What and where: the picture of the place, the repair in figures, who must be asked first.
[[nodiscard]] std::string place_page(const Plan& plan);

/// The same of a repair of several parts: what goes for all of them, and in which order they go.
[[nodiscard]] std::string front_page(const Plan& plan);

/// One part of it: its picture, and the repair in figures.
[[nodiscard]] std::string part_page(const Plan& part, std::size_t number);

/// A hole right through: who decides, what each way costs, what closes it; empty of any other
/// repair.
[[nodiscard]] std::string hole_page(const Plan& plan);

/// The new core between two skins: each step with its amounts, waits and lines; empty without one.
[[nodiscard]] std::string core_page(const Plan& plan);

/// Plies and pieces in the order of laying, with small pictures.
[[nodiscard]] std::string plies_page(const Plan& plan);

/// Cautions in the order in which they matter, and the warnings of this plan.
[[nodiscard]] std::string care_page(const Plan& plan);

/// The warnings of this plan by rank, in plain words.
[[nodiscard]] std::string warning_list(const Plan& plan);

/// Survey and preparation, to tick off.
[[nodiscard]] std::string preparation(const Plan& plan);

/// Grinding and what comes between it and the first cup, with the table of dew points.
[[nodiscard]] std::string grinding(const Plan& plan);

/// What the mark of common practice means, once for the sheet.
[[nodiscard]] std::string practice_note();

/// What to tear and cut, how the torn band thins, and the dry fit, to tick off.
[[nodiscard]] std::string dry_fit(const Plan& plan);

/// How to mix, to tick off; the cups follow.
[[nodiscard]] std::string mixing(const Plan& plan);

/// Stages with their cups to tick off and to time, and what to wait for between them.
[[nodiscard]] std::string stages_page(const Plan& plan);

/// A cup under a name and a heading of its own.
struct NamedCup {
    std::string heading;  ///< markup, a row over the table
    std::string name;     ///< "cup 7"
    quantities::Cup cup;
};

/// A table of single cups, dosed and to be ticked off as in stages_page().
[[nodiscard]] std::string cup_table(const Plan& plan, const std::vector<NamedCup>& cups);

/// Who must be asked before any work.
[[nodiscard]] std::string ask_first_box();

/// What a sheet begins with: everything before its first words.
[[nodiscard]] std::string sheet_head(const std::string& title);

/// How to lay, and for each stage which cup goes where and how thick it builds.
[[nodiscard]] std::string laying(const Plan& plan);

/// Hours of work, waits and days, and what they are made of.
[[nodiscard]] std::string time_plan(const Plan& plan);

/// Sealing, cure and its check, to tick off.
[[nodiscard]] std::string cure(const Plan& plan);

/// Sanding, fairing, gel coat or paint, to tick off.
[[nodiscard]] std::string finish(const Plan& plan);

[[nodiscard]] std::string shopping_list(const Plan& plan);

/// What is used up beside cloth and resin, with the rule for each amount.
[[nodiscard]] std::string consumables_list(const Plan& plan);

/// Waste and records, to tick off.
[[nodiscard]] std::string disposal(const Plan& plan);

/// Old laminate and new side by side, and the scarf check; empty where neither is known.
[[nodiscard]] std::string laminate_check(const Plan& plan);

/// Defaults that stand in for figures of the user's own, each with what it rests on.
[[nodiscard]] std::string stand_ins(const Plan& plan);

/// How the pieces lie on each roll.
///
/// @param most_height  [mm] of a picture
[[nodiscard]] std::string rolls(const Plan& plan, double most_height = 30.0);

/// What to write down while working.
[[nodiscard]] std::string records(const Plan& plan);

}  // namespace tearline::job_sheet
