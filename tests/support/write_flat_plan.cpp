#include <cstdio>
#include <string>

#include "core/base/numbers.h"
#include "core/files/write_plan.h"
#include "core/layout/nest_rolls.h"
#include "core/plan/cut_pieces.h"
#include "tests/support/flat_plan.h"

/// Writes the flat panel's plan into a folder, for readers from outside:
/// write_flat_plan FOLDER [lopsided] [mirror] [pieces] [arcs] [drill] [title=TEXT] [chord=MM]
/// [copies=N] [turn=RAD] [hole=SHARE]
int main(int argc, char** argv) {
    using namespace tearline;
    if (argc < 2) return 2;
    test_support::FlatPlanOptions made;
    files::OutputOptions options;
    int copies = 1;
    options.formats = {files::Format::svg, files::Format::dxf, files::Format::dxf2000,
                       files::Format::hpgl};
    for (int i = 2; i < argc; ++i) {
        const std::string word = argv[i];
        if (word == "lopsided") made.lopsided = true;
        if (word == "mirror") options.mirror = true;
        if (word == "pieces") options.cutter_files = {formats::CutterFiles::pieces};
        if (word == "arcs") options.cutter.arcs = true;
        if (word == "drill") options.cutter.drill = true;
        if (word.rfind("title=", 0) == 0) made.title = word.substr(6);
        if (word.rfind("chord=", 0) == 0)
            options.cutter.chord_error = read_number(word.substr(6)).value();
        if (word.rfind("turn=", 0) == 0) made.turn = read_number(word.substr(5)).value();
        if (word.rfind("hole=", 0) == 0) made.hole = read_number(word.substr(5)).value();
        if (word.rfind("copies=", 0) == 0)
            copies = static_cast<int>(read_number(word.substr(7)).value());
    }
    Plan plan = test_support::flat_plan(made);
    plan.job.layup.copies = copies;
    plan.rolls = layout::nest_rolls(plan::cut_pieces(plan.plies), plan.job).rolls;
    const auto written = files::write_plan(plan, argv[1], options);
    if (!written) std::fprintf(stderr, "%s\n", written.error().message().c_str());
    return written ? 0 : 5;
}
