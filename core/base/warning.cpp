#include "core/base/warning.h"

#include <utility>

namespace tearline {

Warning warning_of(std::string code, Sentence words) {
    Warning warning;
    warning.code = std::move(code);
    warning.message = words.told;
    warning.words = std::move(words);
    return warning;
}

void say_more(Warning& warning, const Sentence& more) {
    warning.message += more.told;
    if (!warning.words.told.empty()) warning.words += more;
}

const std::string& plain_words(const Warning& warning, Units units) {
    return warning.words.told.empty() ? warning.message : warning.words.plain(units);
}

}  // namespace tearline
