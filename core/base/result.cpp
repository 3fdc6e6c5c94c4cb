#include "core/base/result.h"

#include "core/base/printable.h"

namespace tearline {

std::string Error::message() const {
    if (file.empty()) return without_file();
    return printable(file) + (line > 0 ? ":" + std::to_string(line) : "") + ": " + without_file();
}

std::string Error::without_file() const {
    std::string text;
    if (ply) text += "ply " + std::to_string(*ply) + " (" + fabric + "): ";
    const std::string about = !key.empty() ? key : piece.empty() ? "" : "piece " + piece;
    if (!about.empty()) text += about + (subject ? " " : ": ");
    return printable(text + what, true);
}

}  // namespace tearline
