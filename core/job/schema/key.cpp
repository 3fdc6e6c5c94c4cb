#include "core/job/schema/key.h"

namespace tearline::job {

std::string_view mark_words(DefaultMark mark) {
    switch (mark) {
        case DefaultMark::unmarked:
            return {};
        case DefaultMark::form:
            return "form";
        case DefaultMark::common_practice:
            return "common practice";
        case DefaultMark::from_memory:
            return "from memory";
        case DefaultMark::published:
            return "published";
    }
    return {};
}

}  // namespace tearline::job
