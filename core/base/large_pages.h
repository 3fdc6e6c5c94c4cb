#pragma once

namespace tearline {

/// Grows the heap once by what most plans need, in large pages where the system has them for who
/// asks: a plan takes and gives back memory all the time, and each page of 4 kB costs a fault. To
/// be called before there is a second thread. Where there is no room or no such page, nothing is
/// different.
void use_large_pages();

}  // namespace tearline
