#pragma once
#include <cstddef>
#include <functional>

namespace tearline {

/// Does work(0) to work(count - 1), several of them at once, on as many threads as there are
/// processors. Whoever wants the same bytes with one thread and with many lets each write its own
/// part, and puts the parts together afterwards in their order.
///
/// @throws  what one of them threw; the others may then not have been done
void side_by_side(std::size_t count, const std::function<void(std::size_t)>& work);

/// Both, at the same time where there is a thread for it.
void side_by_side(const std::function<void()>& one, const std::function<void()>& other);

/// Sets up what works side by side, before a limit of memory is set. Where oneTBB 2022 has no memory to
/// set itself up by, it waits for ever for a lock that it holds itself.
void ready_side_by_side();

/// From here on nothing is done side by side in this process: for one of many that are.
void one_thread_only();

}  // namespace tearline
