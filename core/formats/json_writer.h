#pragma once
#include <concepts>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/outline.h"

namespace tearline::formats {

/// Writes JSON text in the order of the calls: keys keep their order, numbers are locale-free with
/// 12 significant digits, so the same plan always gives the same bytes.
class JsonWriter {
public:
    JsonWriter& begin_object() { return open('{'); }
    JsonWriter& end_object() { return close('}'); }
    JsonWriter& begin_array() { return open('['); }
    JsonWriter& end_array() { return close(']'); }
    JsonWriter& key(std::string_view name);

    JsonWriter& value(double number);  ///< throws std::logic_error when not finite
    JsonWriter& value(std::integral auto number) { return raw(std::to_string(number)); }
    JsonWriter& value(bool truth) { return raw(truth ? "true" : "false"); }
    JsonWriter& value(std::string_view text);
    JsonWriter& value(const std::string& text) { return value(std::string_view(text)); }
    JsonWriter& value(const char* text) { return value(std::string_view(text)); }
    JsonWriter& value(const Vec2& point);
    JsonWriter& value(const Vec3& point);
    JsonWriter& value(const Region3& region);  ///< {outer, holes}
    JsonWriter& null() { return raw("null"); }
    /// Text that is JSON already.
    JsonWriter& raw(std::string_view json);

    template <class T>
    JsonWriter& value(const std::optional<T>& maybe) {
        return maybe ? value(*maybe) : null();
    }
    template <class T>
    JsonWriter& value(const std::vector<T>& items) {
        begin_array();
        for (const T& item : items) value(item);
        return end_array();
    }
    template <class T>
    JsonWriter& field(std::string_view name, const T& content) {
        return key(name).value(content);
    }

    /// Starts a new line before the next value: for people who look into the file.
    JsonWriter& line();

    [[nodiscard]] std::string take() { return std::move(text_); }

private:
    JsonWriter& list(std::initializer_list<double> numbers);  ///< three at most
    JsonWriter& open(char bracket);
    JsonWriter& close(char bracket);
    void separate();

    std::string text_;
    bool first_ = true;  ///< nothing stands yet in the innermost object or array
    bool after_key_ = false;
    bool new_line_ = false;
};

}  // namespace tearline::formats
