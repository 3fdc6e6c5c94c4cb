#pragma once
#include <string>
#include <tl/expected.hpp>
#include <utility>

namespace tearline {

/// What kind of "no" an error is; the command line turns it into its exit status.
enum class ErrorKind {
    bad_input,       ///< the user's file or value; exit status 3
    no_safe_answer,  ///< the geometry allows no answer that we would cut by; exit status 4
    output_failed,   ///< a file or folder could not be written; exit status 5
};

/// A refusal a repairer can act on: the message names file, field, value and what would be right.
struct Error {
    ErrorKind kind = ErrorKind::bad_input;
    std::string message;
};

template <class T>
using Result = tl::expected<T, Error>;

inline tl::unexpected<Error> bad_input(std::string message) {
    return tl::unexpected<Error>(Error{ErrorKind::bad_input, std::move(message)});
}
inline tl::unexpected<Error> no_safe_answer(std::string message) {
    return tl::unexpected<Error>(Error{ErrorKind::no_safe_answer, std::move(message)});
}
inline tl::unexpected<Error> output_failed(std::string message) {
    return tl::unexpected<Error>(Error{ErrorKind::output_failed, std::move(message)});
}

}  // namespace tearline
