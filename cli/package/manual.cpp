// Writes the manual pages and the completions of the shells, from the words that --help shows.
#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "cli/commands.h"
#include "cli/print/print_words.h"
#include "core/base/numbers.h"
#include "core/base/version.h"

namespace tearline::cli {

namespace {

using Options = std::vector<const CLI::Option*>;
using Apps = std::vector<const CLI::App*>;

/// Sets of options under a heading of their own.
Apps groups_of(const CLI::App& command) {
    return command.get_subcommands([](const CLI::App* group) { return group->get_name().empty(); });
}

/// Of a command or a group alone; a group comes with a --help of its own, which is not told.
Options own_options(const CLI::App& command) {
    return command.get_options([&](const CLI::Option* option) {
        return !command.get_name().empty() || option != command.get_help_ptr();
    });
}

Options options_of(const CLI::App& command) {
    Options options = own_options(command);
    for (const CLI::App* group : groups_of(command))
        for (const CLI::Option* option : own_options(*group)) options.push_back(option);
    return options;
}

Apps commands_of(const CLI::App& app) {
    return app.get_subcommands(
        [](const CLI::App* command) { return !command->get_name().empty(); });
}

/// "tearline plan", or with a hyphen between.
std::string full_name(const CLI::App& command, char between) {
    const CLI::App* parent = command.get_parent();
    return (parent ? parent->get_name() + between : "") + command.get_name();
}

/// What an option takes, of a few words: "{mm,in}" of its checks; empty where it is free.
std::vector<std::string> choices(const CLI::Option& option) {
    const std::string type = option.get_type_name();
    const auto open = type.find('{'), close = type.find('}');
    std::vector<std::string> words;
    if (open == std::string::npos || close == std::string::npos) return words;
    std::istringstream list(type.substr(open + 1, close - open - 1));
    for (std::string word; std::getline(list, word, ',');) words.push_back(word);
    return words;
}

bool takes_value(const CLI::Option& option) {
    return option.get_items_expected_max() > 0;
}

std::string joined(const std::vector<std::string>& words, const char* between) {
    std::string all;
    for (const std::string& word : words) all += (all.empty() ? "" : between) + word;
    return all;
}

/// Every name with its hyphens: "-o", "--format".
std::vector<std::string> names(const CLI::Option& option) {
    std::vector<std::string> all;
    for (const std::string& name : option.get_snames()) all.push_back("-" + name);
    for (const std::string& name : option.get_lnames()) all.push_back("--" + name);
    return all;
}

// Manual pages.

/// Text as troff takes it for itself.
std::string roff(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\')
            out += "\\e";
        else if (c == '-')
            out += "\\-";
        else if ((c == '.' || c == '\'') && out.empty())
            out += std::string("\\&") + c;
        else
            out += c;
    }
    return out;
}

/// The day that the source was written, of SOURCE_DATE_EPOCH; empty without.
std::string day() {
    const char* epoch = std::getenv("SOURCE_DATE_EPOCH");
    const auto seconds = epoch ? read_number(epoch) : std::nullopt;
    if (!seconds) return {};
    const auto time = static_cast<std::time_t>(*seconds);
    char text[16];
    std::strftime(text, sizeof text, "%Y-%m-%d", std::gmtime(&time));
    return text;
}

std::string option_entries(const Options& options) {
    const CLI::Formatter formatter;
    std::string out;
    for (const CLI::Option* option : options) {
        const std::string name = option->get_positional() && names(*option).empty()
                                     ? option->get_name(true)
                                     : joined(names(*option), ", ");
        out += ".TP\n\\fB" + roff(name) + "\\fR" + roff(formatter.make_option_opts(option)) + "\n" +
               roff(option->get_description()) + "\n";
    }
    return out;
}

std::string synopsis(const CLI::App& command, const Options& positional) {
    std::string out = "\\fB" + roff(full_name(command, ' ')) + "\\fR";
    out += " [\\fIOPTIONS\\fR]";
    for (const CLI::Option* option : positional) {
        const std::string name = "\\fI" + roff(option->get_name(true)) + "\\fR";
        out += option->get_required() ? " " + name : " [" + name + "]";
    }
    if (!commands_of(command).empty()) out += " \\fICOMMAND\\fR";
    return out + "\n";
}

std::string manual_page(const CLI::App& command, const std::string& see_also) {
    Options positional, named;
    for (const CLI::Option* option : own_options(command))
        (names(*option).empty() ? positional : named).push_back(option);
    const std::string name = full_name(command, '-');
    std::string upper;
    for (const char c : name) upper += static_cast<char>(std::toupper(c));
    std::string out = ".TH " + roff(upper) + " 1 \"" + day() + "\" \"tearline " +
                      std::string(version()) + "\" Tearline\n.SH NAME\n" + roff(name) + " \\- " +
                      roff(command.get_description()) + "\n.SH SYNOPSIS\n" +
                      synopsis(command, positional);
    if (!positional.empty()) out += ".SH ARGUMENTS\n" + option_entries(positional);
    if (!named.empty()) out += ".SH OPTIONS\n" + option_entries(named);
    for (const CLI::App* group : groups_of(command))
        out += ".SS \"" + roff(group->get_description()) + "\"\n" +
               option_entries(own_options(*group));
    if (!commands_of(command).empty()) {
        out += ".SH COMMANDS\n";
        for (const CLI::App* inner : commands_of(command))
            out += ".TP\n\\fB" + roff(inner->get_name()) + "\\fR\n" +
                   roff(inner->get_description()) + "\n";
    }
    if (!command.get_footer().empty()) out += ".SH NOTES\n" + roff(command.get_footer()) + "\n";
    return out + ".SH SEE ALSO\n" + see_also + "\n";
}

// Completions.

/// Whose options a command takes: `tearline print` hands its own on to the printing program.
const CLI::App& asked(const CLI::App& command, const CLI::App& print) {
    return command.get_name() == "print" ? print : command;
}

/// In single quotes of a shell.
std::string in_quotes(const std::string& text) {
    std::string out = "'";
    for (const char c : text)
        if (c == '\'')
            out += "'\\''";
        else
            out += c;
    return out + "'";
}

std::string option_words(const CLI::App& command) {
    std::string words;
    for (const CLI::Option* option : options_of(command))
        for (const std::string& name : names(*option)) words += (words.empty() ? "" : " ") + name;
    return words;
}

std::string bash_of(const std::string& name, const CLI::App& command) {
    std::string out = "        " + name + ")\n            case $before in\n";
    for (const CLI::Option* option : options_of(command)) {
        if (!takes_value(*option) || names(*option).empty()) continue;
        const auto words = choices(*option);
        out += "                " + joined(names(*option), "|") + ") " +
               (words.empty() ? "return" : "offer=" + in_quotes(joined(words, " "))) + " ;;\n";
    }
    return out +
           "                *) [[ $word == -* ]] && offer=" + in_quotes(option_words(command)) +
           " ;;\n            esac ;;\n";
}

/// Files are offered by the shell itself wherever nothing else is.
std::string bash(const CLI::App& tearline, const CLI::App& print) {
    std::string out =
        R"(# bash completion of tearline and tearline-print, written from their own --help.
_tearline() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} offer= start= command
    command=${COMP_WORDS[1]}
    [[ ${COMP_WORDS[0]##*/} == tearline-print ]] && command=tearline-print
    [[ $command != tearline-print && $COMP_CWORD == 1 ]] && command=
    COMPREPLY=()
    case $command in
        '') offer=)";
    std::vector<std::string> first;
    for (const CLI::App* command : commands_of(tearline)) first.push_back(command->get_name());
    out += in_quotes(joined(first, " ") + " " + option_words(tearline)) + " ;;\n";
    for (const CLI::App* command : commands_of(tearline))
        out += bash_of(command->get_name(), asked(*command, print));
    out += bash_of(print.get_name(), print);
    return out + R"(    esac
    # A list: what stands before its last comma stays.
    [[ $word == *,* && $word != -* ]] && start=${word%,*},
    COMPREPLY=($(compgen -P "$start" -W "$offer" -- "${word#"$start"}"))
}
complete -o bashdefault -o default -F _tearline tearline tearline-print
)";
}

std::string zsh_escaped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '[' || c == ']' || c == ':' || c == '\\') out += '\\';
        out += c;
    }
    return out;
}

std::string zsh_of(const CLI::App& command) {
    std::string out = "_arguments";
    for (const CLI::Option* option : options_of(command)) {
        if (names(*option).empty()) continue;
        for (const std::string& name : names(*option)) {
            std::string spec = name + "[" + zsh_escaped(option->get_description()) + "]";
            const auto words = choices(*option);
            if (takes_value(*option))
                spec += words.empty()             ? ":value:_files"
                        : option->get_delimiter() ? ":list:_values -s , list " + joined(words, " ")
                                                  : ":value:(" + joined(words, " ") + ")";
            out += " \\\n            " + in_quotes(spec);
        }
    }
    return out + " \\\n            '*:file:_files'";
}

std::string zsh(const CLI::App& tearline, const CLI::App& print) {
    std::string out =
        "#compdef tearline tearline-print\n"
        "# zsh completion, written from the programs' own --help.\n"
        "local -a commands=(";
    for (const CLI::App* command : commands_of(tearline))
        out += "\n    " +
               in_quotes(command->get_name() + ":" + zsh_escaped(command->get_description()));
    out += "\n)\nif [[ $service == tearline-print ]]; then\n    " + zsh_of(print) +
           "\nelif (( CURRENT == 2 )); then\n    _describe command commands\nelse\n"
           "    local command=$words[2]\n    shift words\n    (( CURRENT-- ))\n"
           "    case $command in\n";
    for (const CLI::App* command : commands_of(tearline))
        out += "        " + command->get_name() + ")\n        " + zsh_of(asked(*command, print)) +
               " ;;\n";
    return out + "    esac\nfi\n";
}

std::string fish_of(const CLI::App& command, const std::string& where) {
    std::string out;
    for (const CLI::Option* option : options_of(command)) {
        if (names(*option).empty()) continue;
        out += "complete " + where;
        for (const std::string& name : option->get_snames()) out += " -s " + name;
        for (const std::string& name : option->get_lnames()) out += " -l " + name;
        if (takes_value(*option)) {
            const auto words = choices(*option);
            out += words.empty() ? " -r" : " -x -a " + in_quotes(joined(words, " "));
        }
        out += " -d " + in_quotes(option->get_description()) + "\n";
    }
    return out;
}

std::string fish(const CLI::App& tearline, const CLI::App& print) {
    std::string out = "# fish completion, written from the programs' own --help.\n";
    for (const CLI::App* command : commands_of(tearline))
        out += "complete -c tearline -n __fish_use_subcommand -f -a " + command->get_name() +
               " -d " + in_quotes(command->get_description()) + "\n";
    for (const CLI::App* command : commands_of(tearline))
        out += fish_of(asked(*command, print),
                       "-c tearline -n '__fish_seen_subcommand_from " + command->get_name() + "'");
    return out + fish_of(print, "-c tearline-print");
}

bool write(const std::filesystem::path& file, const std::string& text) {
    std::ofstream out(file, std::ios::binary);
    out << text;
    out.close();
    if (!out) std::fprintf(stderr, "%s: could not be written\n", file.c_str());
    return static_cast<bool>(out);
}

int write_all(const std::filesystem::path& folder) {
    int status = exit_done;
    CLI::App tearline("", "tearline"), print("", "tearline-print");
    PrintWords words;
    add_commands(tearline, status);
    add_print_words(print, words);
    std::filesystem::create_directories(folder);
    bool written = true;
    std::string pages;
    for (const CLI::App* command : commands_of(tearline)) {
        const std::string name = full_name(*command, '-');
        pages += (pages.empty() ? "" : ",\n") + (".BR " + roff(name) + " (1)");
        // The printing program's own page says what `tearline print` takes.
        if (name != print.get_name())
            written =
                write(folder / (name + ".1"), manual_page(*command, ".BR tearline (1)")) && written;
    }
    written = write(folder / "tearline.1", manual_page(tearline, pages)) && written;
    written = write(folder / "tearline-print.1", manual_page(print, ".BR tearline (1)")) && written;
    written = write(folder / "tearline.bash", bash(tearline, print)) && written;
    written = write(folder / "tearline.zsh", zsh(tearline, print)) && written;
    written = write(folder / "tearline.fish", fish(tearline, print)) && written;
    return written ? exit_done : exit_output_failed;
}

}  // namespace

}  // namespace tearline::cli

int main(int argc, char** argv) {
    if (argc == 2) return tearline::cli::write_all(argv[1]);
    std::fprintf(stderr, "usage: %s FOLDER\n", argv[0]);
    return tearline::cli::exit_wrong_command_line;
}
