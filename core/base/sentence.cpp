#include "core/base/sentence.h"

#include <cmath>

#include "core/base/length_text.h"
#include "core/base/numbers.h"

namespace tearline {

Sentence& Sentence::operator+=(const Sentence& more) {
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

}  // namespace tearline
