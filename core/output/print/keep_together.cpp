#include "core/output/print/keep_together.h"

#include <QAbstractTextDocumentLayout>
#include <QTextBlock>
#include <QTextCursor>
#include <QTextDocument>
#include <QTextTable>
#include <algorithm>
#include <cmath>

namespace tearline::print {

namespace {

constexpr int headed_rows = 2;  // a table's head and its first row

/// Top and bottom of a paragraph from the document's top [units].
QRectF place_of(const QTextDocument& document, const QTextBlock& block) {
    return document.documentLayout()->blockBoundingRect(block);
}

int page_at(const QTextDocument& document, double y) {
    return static_cast<int>(std::floor(y / document.pageSize().height()));
}

/// The page that the last of a paragraph stands on.
int last_page(const QTextDocument& document, const QTextBlock& block) {
    const double inside = 1e-6 * document.pageSize().height();
    return page_at(document, place_of(document, block).bottom() - inside);
}

/// The last paragraph that has to stand on a heading's page.
QTextBlock headed_by(const QTextBlock& heading) {
    const QTextBlock next = heading.next();
    if (!next.isValid()) return heading;
    const QTextTable* table = QTextCursor(next).currentTable();
    if (table == nullptr) return next;
    const int row = std::min(headed_rows, table->rows()) - 1;
    return table->cellAt(row, 0).lastCursorPosition().block();
}

/// Makes the empty paragraphs that Qt puts behind tables take no room: none may begin a page.
void flatten_empty_paragraphs(QTextDocument& document) {
    QTextBlockFormat format;
    format.setLineHeight(1.0, QTextBlockFormat::FixedHeight);
    format.setTopMargin(0.0);
    format.setBottomMargin(0.0);
    for (QTextBlock block = document.begin(); block.isValid(); block = block.next()) {
        QTextCursor cursor(block);
        if (block.length() <= 1 && cursor.currentTable() == nullptr)
            cursor.mergeBlockFormat(format);
    }
    document.markContentsDirty(0, document.characterCount());
}

}  // namespace

void keep_together(QTextDocument& document) {
    flatten_empty_paragraphs(document);
    for (QTextBlock block = document.begin(); block.isValid(); block = block.next()) {
        QTextCursor cursor(block);
        if (block.length() <= 1 || cursor.currentTable() != nullptr) continue;
        const QTextBlock last = block.blockFormat().headingLevel() > 0 ? headed_by(block) : block;
        if (page_at(document, place_of(document, block).top()) == last_page(document, last))
            continue;
        QTextBlockFormat format;
        format.setPageBreakPolicy(QTextFormat::PageBreak_AlwaysBefore);
        cursor.mergeBlockFormat(format);
        // Laid out afresh from the top: what Qt lays out again from here on alone can lose whole
        // paragraphs between a table and the next page.
        document.markContentsDirty(0, document.characterCount());
    }
}

}  // namespace tearline::print
