#pragma once

namespace tearline::hull {

/// What reading one model may take, in a process of its own for what a library reads.
struct ReadLimits {
    double seconds = 20.0;   ///< [s] of processor time, > 0
    double gigabytes = 1.0;  ///< [GB] beyond what the program itself takes, > 0
};

/// The limits of this process, to be changed before anything is read.
[[nodiscard]] ReadLimits& read_limits();

}  // namespace tearline::hull
