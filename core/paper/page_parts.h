#pragma once
#include <vector>

class QTextDocument;

namespace tearline::paper {

/// A stretch of a document from its top downwards [units of the document].
struct Stretch {
    double top = 0.0, bottom = 0.0;
    [[nodiscard]] double height() const { return bottom - top; }
};

/// What stands on one page.
struct PagePart {
    Stretch body;
    Stretch head;  ///< a table's head, repeated above the body where the page begins within it
};

/// Cuts a document, laid out as one page without an end, into parts for pages.
///
/// Only between paragraphs, list items and table rows is it cut: none is split, and none can be
/// lost, since the parts are strips of one and the same layout. A heading stays with what it heads,
/// so do a paragraph and the table or list that it introduces, a table's head and its first row, a
/// coloured row over all columns and the row below it, and a plain one and the row above it.
///
/// @param height  [units] of a page; a row taller than it has a page to itself, to be drawn smaller
/// @pre the document has a width and no page height
[[nodiscard]] std::vector<PagePart> page_parts(const QTextDocument& document, double height);

}  // namespace tearline::paper
