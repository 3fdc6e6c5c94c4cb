#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/quantity.h"
#include "core/base/result.h"
#include "core/base/vec.h"
#include "core/job/measurements.h"
#include "core/job/node.h"

namespace tearline::job {

struct Can;

/// Where messages of one job file go: the first refusal is kept, later ones are dropped.
class Refusals {
public:
    Refusals(std::string file, int last_line) : file_(std::move(file)), last_line_(last_line) {}

    /// Records that a value at a path must be `right`: "value X: right".
    void refuse(const Node& value, const std::string& path, const std::string& right);
    /// Records what is wrong at a path.
    void refuse(int line, const std::string& path, const std::string& what);
    /// Which of several tables of one path is read; values are then named as its. "" for none.
    void read_of(std::string name) { of_ = std::move(name); }

    [[nodiscard]] const std::optional<Error>& first() const { return first_; }
    [[nodiscard]] int last_line() const { return last_line_; }

private:
    std::string file_;
    int last_line_;
    std::string of_;
    std::optional<Error> first_;
};

/// Values a number may have; messages say it in words.
struct Range {
    double least;
    double most;
    bool least_itself = true;  ///< whether `least` is allowed
    bool most_itself = true;

    [[nodiscard]] bool holds(double value) const;
    [[nodiscard]] std::string words(std::string_view unit) const;
};

inline Range between(double least, double most) {
    return {least, most};
}
inline Range above_zero_to(double most) {
    return {0.0, most, false, true};
}

/// Reads the keys of one table into variables that already hold their defaults.
///
/// An absent key leaves the variable alone; a wrong one is refused with its line.
class TableReader {
public:
    /// @param table  nullptr when the file has no such table
    /// @param path   as in messages, empty for the top of the file
    /// @param keys   every key the table may have; others are refused with the nearest of these
    TableReader(Refusals& refusals, const Node* table, std::string path,
                std::vector<std::string_view> keys);

    [[nodiscard]] bool has(std::string_view key) const;
    [[nodiscard]] bool has_any() const { return table_ != nullptr && !table_->items.empty(); }
    /// Refuses the table when the key is missing; `right` says what belongs there.
    bool require(std::string_view key, const std::string& right);

    void length(std::string_view key, double& mm, const Range& range);
    void length(std::string_view key, std::optional<double>& mm, const Range& range);
    void number(std::string_view key, double& value, const Range& range, std::string_view unit);
    void number(std::string_view key, std::optional<double>& value, const Range& range,
                std::string_view unit);
    void whole_number(std::string_view key, int& value, int least, int most);
    void areal_weight(std::string_view key, GramsPerSquareMetre& weight, const Range& range);
    void mass(std::string_view key, Grams& grams, const Range& range);
    /// A mass or a volume, with its text as typed; both are held to the range, in g and mL.
    void can(std::string_view key, Can& can, const Range& range);
    void stress(std::string_view key, std::optional<double>& mpa, const Range& range);
    void truth(std::string_view key, bool& value);
    void truth(std::string_view key, std::optional<bool>& value);
    void text(std::string_view key, std::string& value);
    void word(std::string_view key, std::string& value, const std::vector<std::string_view>& words);
    void pair(std::string_view key, std::array<double, 2>& values, const Range& range);
    void point(std::string_view key, std::optional<Vec3>& mm);
    void lengths(std::string_view key, std::vector<double>& mm, const Range& range);
    /// Rows of as many lengths each; `row` and `column` name a figure's place in messages.
    void length_table(std::string_view key, std::vector<std::vector<double>>& mm,
                      std::vector<int>& lines, const Range& range);

    /// Where points go that can only be found on the hull.
    struct Taping {
        std::vector<TapedPoint>& taped;
        TapedPoint::Use use;
        bool on_plane = false;  ///< [x, y] will do: a hull measured by hand
        std::size_t index = 0;  ///< of a single point
    };
    /// As above; {A = "412 mm", B = "655 mm", side = "up"} is noted in `taping`.
    void point(std::string_view key, std::optional<Vec3>& mm, Taping taping);
    void points(std::string_view key, std::vector<Vec3>& mm, Taping taping);
    void direction(std::string_view key, Vec3& unit_vector);
    void points(std::string_view key, std::vector<Vec3>& mm);

    /// One of named values of an enumeration; whether one is given.
    template <class E>
    bool choice(std::string_view key, E& value,
                const std::vector<std::pair<std::string_view, E>>& choices) {
        std::vector<std::string_view> words;
        for (const auto& [name, unused] : choices) words.push_back(name);
        std::string chosen;
        word(key, chosen, words);
        for (const auto& [name, named] : choices)
            if (name == chosen) value = named;
        return !chosen.empty();
    }

    /// A number within its range, or a refusal.
    template <class Tag>
    void number(std::string_view key, Quantity<Tag>& value, const Range& range,
                std::string_view unit) {
        double bare = value.value();
        number(key, bare, range, unit);
        value = Quantity<Tag>(bare);
    }
    template <class Tag>
    void number(std::string_view key, std::optional<Quantity<Tag>>& value, const Range& range,
                std::string_view unit) {
        std::optional<double> bare;
        number(key, bare, range, unit);
        if (bare) value = Quantity<Tag>(*bare);
    }

    [[nodiscard]] const Node* find(std::string_view key) const;
    [[nodiscard]] std::string path_of(std::string_view key) const;
    [[nodiscard]] int line() const;
    [[nodiscard]] bool given() const { return table_ != nullptr; }
    /// Refuses a key of this table: its value if it stands in the file, else the table.
    void refuse(std::string_view key, const std::string& right);
    [[nodiscard]] Refusals& refusals() { return *refusals_; }

private:
    void check_keys(const std::vector<std::string_view>& keys);
    std::optional<double> finite(const Node& node, const std::string& path,
                                 const std::string& right);
    /// A finite number of mm, or text with a unit; anything else is refused with `right`.
    std::optional<double> millimetres(const Node& node, const std::string& path,
                                      const std::string& right);
    std::optional<double> coordinate(const Node& node, const std::string& path);
    std::optional<Vec3> triple(const Node& node, const std::string& path);
    std::optional<Vec3> anywhere(const Node& node, const std::string& path, Taping& taping);
    std::optional<double> length_of(const Node& node, const std::string& path, const Range& range);
    bool in_range(const Node& node, std::string_view key, double value, const Range& range,
                  std::string_view unit);

    Refusals* refusals_;
    const Node* table_;
    std::string path_;
};

/// `"a", "b" or "c"` for messages.
[[nodiscard]] std::string listed(const std::vector<std::string_view>& words);

}  // namespace tearline::job
