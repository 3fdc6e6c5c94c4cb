#pragma once
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "core/serve/message.h"

namespace tearline::fuzz {

/// Reads a conversation to its end: every message that counts as whole is, none is made of bytes
/// that never came, and written again it reads the same.
inline bool conversation_holds(const std::string& bytes) {
    using serve::Incoming;
    std::istringstream in(bytes);
    std::size_t taken = 0;
    for (std::size_t count = 0; count <= bytes.size() + 1; ++count) {
        const Incoming incoming = serve::read_message(in);
        switch (incoming.kind) {
            case Incoming::Kind::end:
                return true;
            case Incoming::Kind::broken:
                return !incoming.complaint.empty();
            case Incoming::Kind::malformed:
                if (incoming.complaint.empty()) return false;
                break;
            case Incoming::Kind::crowded:
                return false;  // only an inbox says so
            case Incoming::Kind::message: {
                const serve::Message& message = incoming.message;
                taken += message.header.size() + message.body.size();
                const auto header = nlohmann::ordered_json::parse(message.header, nullptr, false);
                if (taken > bytes.size() || !header.is_object() ||
                    header["bytes"] != message.body.size())
                    return false;
                std::stringstream pipe;
                serve::write_message(pipe, message);
                const Incoming again = serve::read_message(pipe);
                // An escape may take more room than the byte it stands for.
                if (again.kind == Incoming::Kind::malformed && message.header.size() > 10000) break;
                if (again.kind != Incoming::Kind::message || again.message.body != message.body)
                    return false;
            }
        }
    }
    return false;  // more messages than bytes
}

}  // namespace tearline::fuzz
