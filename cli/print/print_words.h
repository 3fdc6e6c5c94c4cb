#pragma once
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace tearline::cli {

/// What the printing program is asked on its command line.
struct PrintWords {
    std::string folder;
    std::string pdf;
    std::string paper;  ///< empty: the plan's own
    std::string print_scale = "1";
    std::vector<std::string> only;
    bool mirror = false, less_paper = false, tables = false, sheet = false;
};

/// Description, version and options of the printing program, which its manual page shows too.
void add_print_words(CLI::App& app, PrintWords& words);

}  // namespace tearline::cli
