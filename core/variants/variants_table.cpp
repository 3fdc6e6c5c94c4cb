#include "core/variants/variants_table.h"

#include <algorithm>

#include "core/base/numbers.h"
#include "core/base/printable.h"
#include "core/formats/csv.h"
#include "core/variants/columns.h"

namespace tearline::variants {

namespace {

using Row = std::vector<std::string>;

std::string status_word(const Variant& variant) {
    std::string status = variant.status.json();
    std::erase(status, '"');
    return status;
}

/// Words over figures stand over the figures and not over their marks.
Row head_of(const Variants& variants, const std::vector<Column>& columns) {
    Row row{""};
    for (const std::string& key : variants.keys) row.push_back(printable(key));
    for (const Column& column : columns) row.push_back(column.title + " ");
    row.emplace_back("stop / do / know ");
    return row;
}

/// Figures with their marks; a blank where none stands, so that they stay under each other.
Row row_of(const Variants& variants, std::size_t index, const std::vector<Column>& columns) {
    const Variant& variant = variants.all[index];
    Row row{std::to_string(index + 1)};
    for (const std::string& value : variant.values) row.push_back(printable(value));
    if (!variant.status.is_done()) return row;
    for (const Column& column : columns) {
        const std::string figure = shown(variant, column);
        row.push_back(figure.empty()                       ? "- "
                      : is_best(variants, variant, column) ? figure + "*"
                                                           : figure + " ");
    }
    row.push_back(shown_warnings(variant) + (has_fewest_warnings(variants, variant) ? "*" : " "));
    return row;
}

std::string padded(const std::string& text, std::size_t width, bool to_left) {
    const std::size_t have = count_characters(text);
    const std::string blanks(width > have ? width - have : 0, ' ');
    return to_left ? text + blanks : blanks + text;
}

}  // namespace

std::string variants_text(const Variants& variants) {
    const std::vector<Column> columns = columns_of(variants);
    std::vector<Row> rows{head_of(variants, columns)};
    for (std::size_t i = 0; i < variants.all.size(); ++i)
        rows.push_back(row_of(variants, i, columns));
    std::vector<std::size_t> widths(rows.front().size(), 0);
    for (const Row& row : rows)
        for (std::size_t i = 0; i < row.size(); ++i)
            widths[i] = std::max(widths[i], count_characters(row[i]));
    std::string out;
    for (std::size_t k = 0; k < rows.size(); ++k) {
        std::string line;
        for (std::size_t i = 0; i < rows[k].size(); ++i) {
            const bool to_left = i > 0 && i <= variants.keys.size();
            line += padded(rows[k][i], widths[i], to_left) + "  ";
        }
        if (k > 0) {
            const Variant& variant = variants.all[k - 1];
            line += variant.status.is_done() ? variant.not_marked_because()
                                             : printable("not planned: " + variant.message);
        }
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + "\n";
    }
    return out + mark_words() + "\n" + caution_words() + "\n";
}

std::string variants_csv(const Variants& variants) {
    const std::vector<Column> columns = columns_of(variants);
    Row head{"variant"};
    for (const std::string& key : variants.keys) head.push_back(formats::csv_text(key));
    head.emplace_back("status");
    for (const Column& column : columns) head.push_back(column.key);
    for (const char* more : {"currency", "cost_complete", "stop", "do", "know", "best_in",
                             "not_marked_because", "warnings", "message"})
        head.emplace_back(more);
    std::string out = formats::csv_line(head);
    for (std::size_t i = 0; i < variants.all.size(); ++i) {
        const Variant& variant = variants.all[i];
        Row row{std::to_string(i + 1)};
        for (const std::string& value : variant.values) row.push_back(formats::csv_text(value));
        row.push_back(status_word(variant));
        std::string best, codes;
        for (const Column& column : columns) {
            const auto figure = variant.figure(column.key);
            row.push_back(figure ? shortest(*figure) : "");
            if (is_best(variants, variant, column)) best += (best.empty() ? "" : " ") + column.key;
        }
        if (has_fewest_warnings(variants, variant))
            best += (best.empty() ? "" : " ") + std::string("warnings");
        for (const Caution& warning : variant.warnings)
            codes += (codes.empty() ? "" : " ") + warning.code;
        row.push_back(formats::csv_text(variant.currency));
        row.emplace_back(variant.cost_complete ? "true" : "false");
        for (const WarningRank rank : warning_ranks)
            row.push_back(std::to_string(variant.count(rank)));
        for (const std::string& text : {best, variant.not_marked_because(), codes, variant.message})
            row.push_back(formats::csv_text(text));
        out += formats::csv_line(row);
    }
    return out;
}

}  // namespace tearline::variants
