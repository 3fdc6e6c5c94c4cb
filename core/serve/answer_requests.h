#pragma once
#include <iosfwd>
#include <memory>
#include <string>

#include "core/serve/inbox.h"

namespace tearline::serve {

/// Answers requests one after the other; keeps the hull, the patch of the live outline and the last
/// plan between them.
class RequestAnswerer {
public:
    /// @param out  where answers and progress go
    RequestAnswerer(std::ostream& out, Cancelled& cancelled);
    ~RequestAnswerer();

    /// Works off one message; false after "bye".
    bool answer(const Message& message);

    /// A request that there was no room for: not done, and told so.
    void turn_away(const Message& message);

    /// Says that something came that is no request.
    void complain(const std::string& what);

private:
    class State;
    std::unique_ptr<State> state_;
};

}  // namespace tearline::serve
