#pragma once

extern "C" void openblas_set_num_threads(int count);

namespace tearline::bench {

/// Dense blocks of a supernodal factor would take every core they find, and the bars are a core's.
inline const bool one_thread = (openblas_set_num_threads(1), true);

}  // namespace tearline::bench
