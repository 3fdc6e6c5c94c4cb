#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "core/base/quantity.h"
#include "core/base/result.h"
#include "core/base/vec.h"
#include "core/job/job.h"
#include "core/job/node.h"

namespace tearline::job {

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

/// Reads the keys of one table.
///
/// What is absent is nothing; so is what is wrong, which is refused with its line.
class TableReader {
public:
    using Unit = std::string_view;
    using Names = std::vector<std::string_view>;

    /// @param table  nullptr when the file has no such table
    /// @param path   as in messages, empty for the top of the file
    /// @param keys   every key the table may have; others are refused with the nearest of these
    TableReader(Refusals& refusals, const Node* table, std::string path, Names keys);

    [[nodiscard]] bool has(std::string_view key) const { return find(key) != nullptr; }
    [[nodiscard]] bool has_any() const { return table_ != nullptr && !table_->items.empty(); }
    /// Refuses the table when the key is missing; `right` says what belongs there.
    bool require(std::string_view key, const std::string& right);

    template <class T>
    using Read = std::optional<T>;

    /// What one of the readers below reads under a key; nothing where the key is absent.
    template <class T, class... Hows>
    Read<T> read(std::string_view key,
                 Read<T> (TableReader::*reader)(const Node&, const std::string& path, Hows...),
                 std::type_identity_t<Hows>... hows) {
        const Node* node = find(key);
        return node == nullptr ? std::nullopt : (this->*reader)(*node, path_of(key), hows...);
    }

    Read<double> number(const Node& node, const std::string& path, Range range, Unit unit);
    Read<int> whole_number(const Node& node, const std::string& path, Range range, Unit);
    /// [mm]
    Read<double> length(const Node& node, const std::string& path, Range range, Unit unit);
    /// [MPa]
    Read<double> stress(const Node& node, const std::string& path, Range range, Unit unit);
    /// [g]
    Read<double> mass(const Node& node, const std::string& path, Range range, Unit unit);
    Read<double> areal_weight(const Node& node, const std::string& path, Range range, Unit unit);
    /// A mass or a volume, with its text as typed; both are held to the range, in g and mL.
    Read<Can> can(const Node& node, const std::string& path, Range range, Unit unit);
    Read<std::array<double, 2>> pair(const Node& node, const std::string& path, Range range, Unit);
    Read<std::vector<double>> lengths(const Node& node, const std::string& path, Range range,
                                      Unit unit);
    /// Rows of as many lengths each.
    Read<std::vector<std::vector<double>>> length_rows(const Node& node, const std::string& path,
                                                       Range range, Unit unit);
    Read<bool> truth(const Node& node, const std::string& path);
    /// A title or a name: of printable characters, and not too many.
    Read<std::string> text(const Node& node, const std::string& path);
    /// The name of a file, as the system takes it.
    Read<std::string> file(const Node& node, const std::string& path);
    Read<std::string> word(const Node& node, const std::string& path, Names words);
    Read<Vec3> direction(const Node& node, const std::string& path);
    /// [x, y, z] as it stands; never by tape.
    Read<Vec3> place(const Node& node, const std::string& path) { return triple(node, path); }
    Read<std::vector<Vec3>> places(const Node& node, const std::string& path);

    /// Where points go that can only be found on the hull.
    struct Taping {
        std::vector<TapedPoint>& taped;
        TapedPoint::Use use;
        bool on_plane = false;  ///< [x, y] will do: a hull measured by hand
        std::size_t index = 0;  ///< of a single point
    };
    /// [x, y, z]; {A = "412 mm", B = "655 mm", side = "up"} is noted in `taping`.
    Read<Vec3> point(const Node& node, const std::string& path, Taping taping);
    Read<std::vector<Vec3>> points(const Node& node, const std::string& path, Taping taping);

    [[nodiscard]] const Node* find(std::string_view key) const;
    [[nodiscard]] std::string path_of(std::string_view key) const;
    [[nodiscard]] int line() const;
    [[nodiscard]] bool given() const { return table_ != nullptr; }
    /// Refuses a key of this table: its value if it stands in the file, else the table.
    void refuse(std::string_view key, const std::string& right);
    [[nodiscard]] Refusals& refusals() { return *refusals_; }

private:
    void check_keys(const Names& keys);
    std::nullopt_t wrong(const Node& value, const std::string& path, const std::string& right);
    Read<double> finite(const Node& node, const std::string& path, const std::string& right);
    /// A finite number, or text that `read` understands; anything else is refused with `right`.
    template <class T>
    Read<double> amount(const Node& node, const std::string& path,
                        tl::expected<T, std::string> (*read)(std::string_view),
                        const std::string& right);
    /// A value within its range, or a refusal.
    Read<double> in_range(const Node& node, const std::string& path, const Read<double>& value,
                          const Range& range, std::string_view unit);
    Read<double> coordinate(const Node& node, const std::string& path);
    Read<Vec3> triple(const Node& node, const std::string& path);

    Refusals* refusals_;
    const Node* table_;
    std::string path_;
};

/// `"a", "b" or "c"` for messages.
[[nodiscard]] std::string listed(const std::vector<std::string_view>& words);

}  // namespace tearline::job
