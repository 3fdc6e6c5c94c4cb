#include "core/base/sentence.h"

#include <cmath>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/us_units.h"

namespace tearline {

Sentence& Sentence::operator+=(const Sentence& more) {
    if (subject.empty()) subject = more.subject;
    told += more.told;
    metric += more.metric;
    us += more.us;
    return *this;
}

Sentence operator+(Sentence first, const Sentence& more) {
    first += more;
    return first;
}

Sentence plainly(const std::string& told, const std::string& plain) {
    return {told, plain, plain};
}

namespace {

Sentence about(const std::string& subject) {
    Sentence sentence(subject, "", "");
    sentence.subject = subject;
    return sentence;
}

}  // namespace

Sentence of_ply(const std::optional<int>& number) {
    return about("ply " + std::to_string(number.value()));
}

Sentence of_piece(const std::string& id) {
    return about("piece " + id);
}

std::string listed(const std::vector<int>& numbers) {
    std::string list;
    for (const int number : numbers) list += (list.empty() ? "" : ", ") + std::to_string(number);
    return list;
}

Sentence said_length(double mm, int decimals) {
    const std::string metric = length_text(mm, decimals, Units::metric);
    return {metric, metric, length_text(mm, decimals, Units::us)};
}

Sentence said_length(double mm) {
    const std::string rounded = shortest(std::round(100.0 * mm) / 100.0) + " mm";
    return {shortest(mm) + " mm", rounded, length_text(mm, 1, Units::us)};
}

Sentence said_thickness(double mm, int decimals) {
    const std::string metric = thickness_text(mm, decimals, Units::metric);
    return {metric, metric, thickness_text(mm, decimals, Units::us)};
}

Sentence said_mass(Grams mass, int decimals) {
    const std::string metric = fixed(mass.value(), decimals) + " g";
    return {metric, metric, us::mass_text(mass) + " (" + metric + ")"};
}

Sentence said_warmth(Celsius temperature) {
    const std::string given = shortest(temperature.value());
    return {given + " C", given + " °C", fixed(us::fahrenheit(temperature), 0) + " °F"};
}

}  // namespace tearline
