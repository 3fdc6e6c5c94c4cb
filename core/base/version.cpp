#include "core/base/version.h"

namespace tearline {

std::string_view version() {
    return TEARLINE_VERSION;
}

}  // namespace tearline
