#include "core/job/effective_json.h"

#include "core/job/node_json.h"
#include "core/job/schema/tables.h"

namespace tearline::job {

std::string effective_json(const Job& job) {
    return json_text(written(job_keys(), job));
}

}  // namespace tearline::job
