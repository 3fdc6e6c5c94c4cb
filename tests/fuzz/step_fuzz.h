#pragma once
#include <algorithm>
#include <charconv>
#include <string>

#include "core/hull/check_step.h"

namespace tearline::fuzz {

/// What is wrong with a STEP text is one printable sentence, and a line that it names is there.
inline bool step_scan_holds(const std::string& text) {
    const auto flaw = hull::flaw_in_step(text);
    if (!flaw) return true;
    if (flaw->empty() || flaw->size() > 300) return false;
    for (const char c : *flaw)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) return false;
    if (!flaw->starts_with("line ")) return true;
    long line = 0;
    std::from_chars(flaw->data() + 5, flaw->data() + flaw->size(), line);
    return line >= 1 && line <= 1 + std::count(text.begin(), text.end(), '\n');
}

}  // namespace tearline::fuzz
