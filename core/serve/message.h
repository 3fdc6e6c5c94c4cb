#pragma once
#include <cstddef>
#include <iosfwd>
#include <optional>
#include <span>
#include <string>

/// Messages between the engine and the program that fronts it, over two pipes.
///
/// A message is one line of JSON (the header) that says `"bytes": N`, then exactly N bytes (the
/// body).
namespace tearline::serve {

struct Message {
    std::string header;  ///< a JSON object on one line, without the line's end
    std::string body;
};

struct MessageLimits {
    std::size_t header_bytes = 64 * 1024;       ///< [bytes] longest header line
    std::size_t body_bytes = 64 * 1024 * 1024;  ///< [bytes] longest body of a request
};

/// What came off the pipe.
struct Incoming {
    enum class Kind {
        message,    ///< `message` is whole
        malformed,  ///< a line that is no header; reading can go on with the next line
        crowded,    ///< whole, but there was no room for it: its body is not kept
        broken,     ///< a body too long or cut short; nothing after it can be trusted
        end,        ///< the other side has closed the pipe
    };
    Kind kind = Kind::end;
    Message message;
    std::string complaint;  ///< for malformed and broken
};

/// Reads the next message; never trusts a count before it has the bytes.
[[nodiscard]] Incoming read_message(std::istream& in, const MessageLimits& limits = {});

/// Writes header and body; puts the body's length into the header.
/// @pre header is a JSON object
void write_message(std::ostream& out, const Message& message);

/// The same, of a body in parts that are told one after the other.
void write_message(std::ostream& out, const std::string& header, std::span<const std::string> body);

}  // namespace tearline::serve
