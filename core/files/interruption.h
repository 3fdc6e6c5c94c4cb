#pragma once
#include <array>
#include <csignal>

namespace tearline::files {

/// While it lives, SIGINT, SIGTERM and SIGHUP are only noted, so that half-written files can be
/// taken away; when it ends, a noted signal is raised again with its own handler in place.
class Interruption {
public:
    Interruption();
    ~Interruption();
    Interruption(const Interruption&) = delete;
    Interruption& operator=(const Interruption&) = delete;
    [[nodiscard]] static bool noted();

private:
    static constexpr std::array<int, 3> signals_ = {SIGINT, SIGTERM, SIGHUP};
    std::array<struct sigaction, 3> before_{};
};

}  // namespace tearline::files
