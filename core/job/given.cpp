#include "core/job/given.h"

namespace tearline::job {

bool is_given(const Job& job, const std::string& key) {
    return job.lines.contains(key);
}

bool is_given(const Job& job, const Fabric& fabric, const std::string& key) {
    return is_given(job, "fabric." + fabric.name + "." + key);
}

}  // namespace tearline::job
