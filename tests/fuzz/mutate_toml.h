#pragma once
#include <nlohmann/json.hpp>
#include <sstream>

#include "core/job/schema/keys_json.h"
#include "tests/fuzz/mutate.h"

namespace tearline::fuzz {

struct JobKey {
    std::string table, key;
    std::vector<std::string> choices;
};

/// What a job file may hold, from the reader's own table of keys.
inline const std::vector<JobKey>& job_keys() {
    static const std::vector<JobKey> keys = [] {
        std::vector<JobKey> found;
        const nlohmann::json all = nlohmann::json::parse(job::keys_json());
        for (const auto& row : all["keys"]) {
            JobKey key{row.value("table", ""), row.value("key", ""), {}};
            if (const auto choices = row.find("choices"); choices != row.end())
                for (const auto& choice : *choices)
                    if (choice.is_string()) key.choices.push_back(choice.get<std::string>());
            found.push_back(std::move(key));
        }
        return found;
    }();
    return keys;
}

inline std::string some_value(Draw& draw, const JobKey* key) {
    static const std::vector<std::string> values = {"0",
                                                    "-1",
                                                    "1",
                                                    "6",
                                                    "1e308",
                                                    "-1e-308",
                                                    "5e-324",
                                                    "nan",
                                                    "inf",
                                                    "9223372036854775807",
                                                    "true",
                                                    "false",
                                                    "\"\"",
                                                    "\"6 mm\"",
                                                    "\"1 in\"",
                                                    "\"450 g/m2\"",
                                                    "\"1.5 oz/ft2\"",
                                                    "\"250 g\"",
                                                    "\"mat 450\"",
                                                    "[]",
                                                    "[1, 2, 3]",
                                                    "[[0, 0, 0], [100, 0, 0], [0, 100, 0]]",
                                                    "[5, 1]",
                                                    "{}",
                                                    "{A = \"400 mm\", B = 300, side = \"up\"}",
                                                    "{fabric = \"roving 600\", axis = 30}",
                                                    "[\"mat 450\", \"roving 600\"]",
                                                    "[\"1 mm\", [2]]",
                                                    "2026-01-01",
                                                    "\"\\u0000\"",
                                                    "\"\\u202e\"",
                                                    "0x10",
                                                    "1_000",
                                                    "'''\n'''"};
    if (key != nullptr && !key->choices.empty() && draw.below(2) == 0)
        return '"' + draw.of(key->choices) + '"';
    return draw.of(values);
}

/// One change of a job file: a value, a key of the schema put in, lines moved, doubled or dropped.
inline std::string change_toml(std::string text, Draw& draw) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    if (lines.empty()) lines.emplace_back();
    const std::size_t at = draw.below(lines.size());
    switch (draw.below(5)) {
        case 0: {
            const std::size_t equals = lines[at].find('=');
            if (equals != std::string::npos)
                lines[at] = lines[at].substr(0, equals + 1) + " " + some_value(draw, nullptr);
            break;
        }
        case 1:
        case 2: {
            const JobKey& key = draw.of(job_keys());
            const bool listed = draw.below(6) == 0;
            // Into its own table where that stands already, else with a heading.
            const std::string heading = "[" + key.table + "]";
            const auto table = std::find(lines.begin(), lines.end(), heading);
            const std::string line = key.key + " = " + some_value(draw, &key);
            if (table != lines.end())
                lines.insert(table + 1, line);
            else if (key.table.empty())
                lines.insert(lines.begin(), line);
            else
                lines.insert(lines.end(), {listed ? "[" + heading + "]" : heading, line});
            break;
        }
        case 3:
            lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(draw.below(lines.size())),
                         std::string(lines[at]));
            break;
        default:
            lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
    }
    std::string changed;
    for (const std::string& line : lines) changed += line + "\n";
    return changed;
}

}  // namespace tearline::fuzz
