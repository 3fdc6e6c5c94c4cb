#include "core/base/version.h"

namespace tearline {

std::string_view version() {
    return TEARLINE_VERSION;
}

std::string_view built_with() {
    return TEARLINE_BUILT_WITH;
}

}  // namespace tearline
