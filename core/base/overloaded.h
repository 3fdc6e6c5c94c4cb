#pragma once

namespace tearline {

/// Several lambdas as one, for std::visit: each takes one alternative, and one that is forgotten
/// does not compile.
template <class... Each>
struct Overloaded : Each... {
    using Each::operator()...;
};
template <class... Each>
Overloaded(Each...) -> Overloaded<Each...>;

}  // namespace tearline
