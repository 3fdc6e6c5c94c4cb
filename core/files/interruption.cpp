#include "core/files/interruption.h"

namespace tearline::files {

namespace {
volatile std::sig_atomic_t noted_signal = 0;
void note(int signal) {
    noted_signal = signal;
}
}  // namespace

Interruption::Interruption() {
    noted_signal = 0;
    struct sigaction action {};
    action.sa_handler = note;
    sigemptyset(&action.sa_mask);
    for (std::size_t i = 0; i < signals_.size(); ++i) {
        sigaction(signals_[i], nullptr, &before_[i]);
        // A signal that the caller ignores (nohup) stays ignored.
        if (before_[i].sa_handler != SIG_IGN) sigaction(signals_[i], &action, nullptr);
    }
}

Interruption::~Interruption() {
    for (std::size_t i = 0; i < signals_.size(); ++i) sigaction(signals_[i], &before_[i], nullptr);
    if (noted_signal != 0) raise(noted_signal);
}

bool Interruption::noted() {
    return noted_signal != 0;
}

}  // namespace tearline::files
