#include "core/paper/page_parts.h"

#include <QAbstractTextDocumentLayout>
#include <QTextBlock>
#include <QTextCursor>
#include <QTextDocument>
#include <QTextList>
#include <QTextTable>
#include <algorithm>
#include <limits>

namespace tearline::paper {

namespace {

/// A paragraph, a list item or a table's row.
struct Piece {
    Stretch place;
    bool with_next = false;              ///< stays on the page of the piece below it
    std::size_t heads = 0, head_at = 0;  ///< its table's head rows, and the first; none in a head
};

class Pieces {
public:
    explicit Pieces(const QTextDocument& document) : layout_(*document.documentLayout()) {
        add_frame(*document.rootFrame());
    }

    [[nodiscard]] std::vector<Piece> take() { return std::move(pieces_); }

private:
    [[nodiscard]] bool introduces() const { return !pieces_.empty() && after_paragraph_; }

    void add_frame(const QTextFrame& frame) {
        for (auto at = frame.begin(); !at.atEnd(); ++at) {
            if (const QTextFrame* inner = at.currentFrame(); inner == nullptr)
                add_paragraph(at.currentBlock());
            else if (const auto* table = qobject_cast<const QTextTable*>(inner))
                add_table(*table);
            else
                add_frame(*inner);
        }
    }

    void add_paragraph(const QTextBlock& block) {
        if (block.length() <= 1) return;  // Qt puts empty ones behind tables
        const bool listed = block.textList() != nullptr;
        if (listed && introduces()) pieces_.back().with_next = true;
        const QRectF place = layout_.blockBoundingRect(block);
        pieces_.push_back({{place.top(), place.bottom()}, block.blockFormat().headingLevel() > 0});
        after_paragraph_ = !listed;
    }

    /// Of all paragraphs in the cells that begin in a row.
    [[nodiscard]] Stretch row_place(const QTextTable& table, int row) const {
        Stretch place{std::numeric_limits<double>::max(), 0.0};
        for (int column = 0; column < table.columns(); ++column) {
            const QTextTableCell cell = table.cellAt(row, column);
            if (cell.row() != row) continue;
            const QTextBlock end = cell.lastCursorPosition().block().next();
            for (QTextBlock block = cell.firstCursorPosition().block(); block != end;
                 block = block.next()) {
                const QRectF rect = layout_.blockBoundingRect(block);
                place.top = std::min(place.top, rect.top());
                place.bottom = std::max(place.bottom, rect.bottom());
            }
        }
        return place;
    }

    [[nodiscard]] static bool joined_to_next(const QTextTable& table, int row) {
        for (int column = 0; column < table.columns(); ++column) {
            const QTextTableCell cell = table.cellAt(row, column);
            if (cell.row() + cell.rowSpan() > row + 1) return true;
        }
        const auto over_all = [&](int r) {
            return table.cellAt(r, 0).columnSpan() > 1 &&
                   table.cellAt(r, 0).columnSpan() == table.columns();
        };
        const auto coloured = [&](int r) {
            return table.cellAt(r, 0).format().background().style() != Qt::NoBrush;
        };
        return (over_all(row) && coloured(row)) || (over_all(row + 1) && !coloured(row + 1));
    }

    void add_table(const QTextTable& table) {
        if (introduces()) pieces_.back().with_next = true;
        const int heads = table.format().headerRowCount();
        const std::size_t first = pieces_.size();
        for (int row = 0; row < table.rows(); ++row) {
            const bool last = row + 1 == table.rows(), head = row < heads;
            pieces_.push_back({row_place(table, row), !last && (head || joined_to_next(table, row)),
                               head ? 0 : static_cast<std::size_t>(heads), first});
        }
        after_paragraph_ = false;
    }

    const QAbstractTextDocumentLayout& layout_;
    std::vector<Piece> pieces_;
    bool after_paragraph_ = false;  ///< and not after a table or a list
};

/// The last of the pieces that have to stand on a piece's page.
std::size_t chain_end(const std::vector<Piece>& pieces, std::size_t from) {
    while (from + 1 < pieces.size() && pieces[from].with_next) ++from;
    return from;
}

/// Cuts pieces into pages.
class Cutter {
public:
    Cutter(std::vector<Piece> pieces, double end, double height)
        : pieces_(std::move(pieces)), end_(end), height_(height) {}

    [[nodiscard]] std::vector<PagePart> parts() const {
        std::vector<PagePart> parts;
        for (std::size_t from = 0; from < pieces_.size();) {
            const std::size_t end = page_end(from);
            parts.push_back({{cut(from), cut(end)}, head(from)});
            from = end;
        }
        return parts;
    }

private:
    /// Midway between two pieces: the lines and grounds of each stay with it.
    [[nodiscard]] double cut(std::size_t i) const {
        if (i == 0) return 0.0;
        if (i == pieces_.size()) return end_;
        return 0.5 * (pieces_[i - 1].place.bottom + pieces_[i].place.top);
    }

    [[nodiscard]] Stretch head(std::size_t i) const {
        const Piece& piece = pieces_[i];
        if (piece.heads == 0) return {};
        return {cut(piece.head_at), cut(piece.head_at + piece.heads)};
    }

    /// The first piece that does not go on the page which begins with `from`; at least that goes.
    [[nodiscard]] std::size_t page_end(std::size_t from) const {
        const double limit = cut(from) + height_ - head(from).height();
        std::size_t end = from;
        while (end < pieces_.size()) {
            const std::size_t last = chain_end(pieces_, end);
            if (pieces_[last].place.bottom > limit) break;
            end = last + 1;
        }
        if (end > from) return end;
        // What belongs together is more than a page.
        for (end = from + 1; end < pieces_.size() && pieces_[end].place.bottom <= limit;) ++end;
        return end;
    }

    std::vector<Piece> pieces_;
    double end_, height_;
};

}  // namespace

std::vector<PagePart> page_parts(const QTextDocument& document, double height) {
    return Cutter(Pieces(document).take(), document.size().height(), height).parts();
}

}  // namespace tearline::paper
