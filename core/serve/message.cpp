#include "core/serve/message.h"

#include <algorithm>
#include <istream>
#include <nlohmann/json.hpp>
#include <numeric>
#include <ostream>

namespace tearline::serve {

namespace {

/// One line up to its end; false when the pipe ended first. Stops storing beyond the limit but
/// reads on to the line's end, so that the next line starts clean.
bool read_line(std::istream& in, std::size_t most, std::string& line, bool& too_long) {
    line.clear();
    too_long = false;
    for (int c = in.get(); c != std::istream::traits_type::eof(); c = in.get()) {
        if (c == '\n') return true;
        if (line.size() < most)
            line.push_back(static_cast<char>(c));
        else
            too_long = true;
    }
    return false;
}

/// The body in pieces, so that a false count never allocates what does not come.
bool read_body(std::istream& in, std::size_t count, std::string& body) {
    constexpr std::size_t step = 1 << 20;
    while (body.size() < count) {
        const std::size_t wanted = std::min(step, count - body.size());
        const std::size_t have = body.size();
        body.resize(have + wanted);
        in.read(body.data() + have, static_cast<std::streamsize>(wanted));
        if (static_cast<std::size_t>(in.gcount()) < wanted) return false;
    }
    return true;
}

}  // namespace

Incoming read_message(std::istream& in, const MessageLimits& limits) {
    using Kind = Incoming::Kind;
    std::string line;
    bool too_long = false;
    do {
        if (!read_line(in, limits.header_bytes, line, too_long)) return {Kind::end, {}, {}};
    } while (line.empty());
    if (too_long)
        return {Kind::malformed,
                {},
                "a header line is at most " + std::to_string(limits.header_bytes) + " bytes long"};
    const auto header = nlohmann::json::parse(line, nullptr, false);
    if (!header.is_object())
        return {Kind::malformed, {}, "a header line is one JSON object on one line"};
    const auto bytes = header.find("bytes");
    if (bytes == header.end() || !bytes->is_number_unsigned())
        return {
            Kind::malformed, {}, "a header says how many bytes follow it: \"bytes\": N, N >= 0"};
    const auto count = bytes->get<std::uint64_t>();
    if (count > limits.body_bytes)
        return {Kind::broken,
                {line, {}},
                "a body is at most " + std::to_string(limits.body_bytes) + " bytes long"};
    Incoming incoming{Kind::message, {line, {}}, {}};
    if (!read_body(in, static_cast<std::size_t>(count), incoming.message.body))
        return {Kind::broken, {line, {}}, "the pipe ended inside a body"};
    return incoming;
}

void write_message(std::ostream& out, const Message& message) {
    write_message(out, message.header, {&message.body, 1});
}

void write_message(std::ostream& out, const std::string& header,
                   std::span<const std::string> body) {
    using Json = nlohmann::ordered_json;
    auto whole = Json::parse(header);
    whole["bytes"] =
        std::accumulate(body.begin(), body.end(), std::size_t{0},
                        [](std::size_t sum, const auto& part) { return sum + part.size(); });
    out << whole.dump(-1, ' ', false, Json::error_handler_t::replace) << '\n';
    for (const std::string& part : body)
        out.write(part.data(), static_cast<std::streamsize>(part.size()));
    out.flush();
}

}  // namespace tearline::serve
