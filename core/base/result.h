#pragma once
#include <optional>
#include <string>
#include <tl/expected.hpp>
#include <utility>

#include "core/base/vec.h"

namespace tearline {

/// What kind of "no" an error is; the command line turns it into its exit status.
enum class ErrorKind {
    bad_input,       ///< the user's file or value; exit status 3
    no_safe_answer,  ///< the geometry allows no answer that we would cut by; exit status 4
    output_failed,   ///< a file or folder could not be written; exit status 5
};

/// A refusal a repairer can act on. Whoever refuses says what he knows; those who know where it
/// stands (job::in_file), for which ply or for which piece fill that in.
struct Error {
    ErrorKind kind = ErrorKind::bad_input;
    std::string key = {};   ///< of the job file, or a word of the command line; "" for none
    std::string what = {};  ///< the value and what would be right, without what is told below
    std::string file = {};  ///< that the key stands in, or that cannot be read or written; or ""
    int line = 0;           ///< [-] of that file, from 1; 0 where it is not known
    std::optional<Vec3> place = {};  ///< [mm] on the hull
    std::optional<int> ply = {};     ///< number as on the templates
    std::string fabric = {};         ///< of that ply
    std::string piece = {};          ///< id as on the templates; or ""
    bool subject = false;  ///< whether `what` goes on a sentence that the key or piece begins

    /// "FILE:LINE: ply 3 (mat 450): key: what", of these what is known: the one place where it is
    /// put together.
    [[nodiscard]] std::string message() const;
    /// The same without file and line, for who looks at fields and not at the file.
    [[nodiscard]] std::string without_file() const;
};

template <class T>
using Result = tl::expected<T, Error>;

/// @param what  without a key
inline tl::unexpected<Error> bad_input(std::string what) {
    return tl::unexpected<Error>(Error{.what = std::move(what)});
}

/// @param place  [mm] on the hull
inline tl::unexpected<Error> bad_input(std::string key, std::string what,
                                       std::optional<Vec3> place = {}) {
    return tl::unexpected<Error>(
        Error{.key = std::move(key), .what = std::move(what), .place = place});
}

/// @param place  [mm] on the hull
inline tl::unexpected<Error> no_safe_answer(std::string what, std::optional<Vec3> place = {}) {
    return tl::unexpected<Error>(
        Error{.kind = ErrorKind::no_safe_answer, .what = std::move(what), .place = place});
}

/// @param place  [mm] on the hull
inline tl::unexpected<Error> no_safe_answer(std::string key, std::string what,
                                            std::optional<Vec3> place = {}) {
    return tl::unexpected<Error>(Error{.kind = ErrorKind::no_safe_answer,
                                       .key = std::move(key),
                                       .what = std::move(what),
                                       .place = place});
}

/// @param file  that is at fault as a whole or in a line, as the message names it
/// @param line  [-] from 1; 0 for the file as a whole
inline tl::unexpected<Error> bad_file(std::string file, std::string what, int line = 0) {
    return tl::unexpected<Error>(
        Error{.what = std::move(what), .file = std::move(file), .line = line});
}

inline tl::unexpected<Error> output_failed(std::string what) {
    return tl::unexpected<Error>(Error{.kind = ErrorKind::output_failed, .what = std::move(what)});
}

/// @param file  or folder that could not be written, as the message names it
inline tl::unexpected<Error> output_failed(std::string file, std::string what) {
    return tl::unexpected<Error>(
        Error{.kind = ErrorKind::output_failed, .what = std::move(what), .file = std::move(file)});
}

}  // namespace tearline
