#include "core/base/address_space.h"

#include <malloc.h>
#include <unistd.h>

#include <cstdio>

namespace tearline {

double address_space_now() {
    malloc_trim(0);  // room that the heap holds in reserve would come on top of any limit
    double pages = 0.0;
    if (std::FILE* file = std::fopen("/proc/self/statm", "r")) {
        if (std::fscanf(file, "%lf", &pages) != 1) pages = 0.0;
        std::fclose(file);
    }
    return pages * static_cast<double>(sysconf(_SC_PAGESIZE));
}

}  // namespace tearline
