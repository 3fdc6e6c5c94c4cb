#pragma once
#include "core/paper/paint_page.h"
#include "tests/unit/paint/recorder.h"

namespace tearline::paper {

/// A page in mm from the paper's upper left corner, so that everything measured is what a ruler on
/// the print reads.
inline Painted painted_page(const PrintLayout& layout, std::size_t page) {
    Recorder recorder;
    QPainter painter(&recorder);
    paint_page(painter, layout, page, 1.0);
    return recorder.painted;
}

}  // namespace tearline::paper
