#pragma once

class QTextDocument;

namespace tearline::print {

/// Moves to the next page each paragraph that a page's end would cut, and each heading that would
/// stand at a page's foot without what it heads (of a table, its head and first row).
///
/// @pre the document has its page size; rows of tables are kept whole by Qt's own layout
void keep_together(QTextDocument& document);

}  // namespace tearline::print
