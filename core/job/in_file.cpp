#include "core/job/in_file.h"

#include <string>

namespace tearline::job {

namespace {

/// [-] from 1; 0 where neither "table.key" nor "table" of "table.key[3].more" stands in the file.
int line_of(const Job& job, const std::string& key) {
    auto line = job.lines.find(key.substr(0, key.find('[')));
    if (line == job.lines.end()) line = job.lines.find(key.substr(0, key.find_first_of(".[")));
    return line == job.lines.end() ? 0 : line->second;
}

}  // namespace

Error in_file(const Job& job, Error error) {
    if (!error.file.empty()) return error;
    error.file = job.file.string();
    if (error.line == 0) error.line = line_of(job, error.key);
    return error;
}

}  // namespace tearline::job
