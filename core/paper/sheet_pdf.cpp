#include "core/paper/sheet_pdf.h"

#include <QAbstractTextDocumentLayout>
#include <QBuffer>
#include <QFontMetricsF>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>
#include <QTextDocument>
#include <QTextOption>
#include <QTextTable>
#include <string_view>
#include <vector>

#include "core/base/us_constants.h"
#include "core/paper/page_parts.h"
#include "core/paper/pdf_identity.h"
#include "core/paper/pdf_units.h"
#include "core/paper/picture_handler.h"

namespace tearline::paper {

namespace {

constexpr double side_mm = 14.0, top_mm = 12.0, bottom_mm = 15.0;  // margins
constexpr double spare_mm = 2.0;  // of the lower margin, for the lines below a table's last row

// The words' look on paper; the same classes as in the sheet's own style for browsers.
constexpr const char* style = R"(
h1 { font-size: 18pt; color: #12303f; margin-top: 0px; margin-bottom: 2px; }
h2 { font-size: 11.5pt; color: #12303f; margin-top: 13px; margin-bottom: 4px; }
p { margin-top: 3px; margin-bottom: 3px; }
.quiet { color: #55636c; font-size: 8pt; }
.blank { color: #8a97a0; }
.rank-stop { background-color: #fbe4de; }
.rank-do { background-color: #fdf3df; }
.rank-stop-head b { color: #a3250b; }
.rank-do-head b { color: #a86400; }
.rank-know-head b { color: #2f5d7c; }
.stage { background-color: #e6eef3; }
.then { color: #12405d; }
th { font-size: 7.5pt; color: #44525c; font-weight: normal; vertical-align: bottom; border-bottom: 1px solid #7f95a3; }
td { font-size: 8.5pt; vertical-align: middle; border-bottom: 1px solid #ccd5da; padding-top: 2px; padding-bottom: 2px; padding-left: 3px; padding-right: 3px; }
th { padding-left: 3px; padding-right: 3px; }
.plies td { font-size: 8pt; }
.laying td { font-size: 8pt; }
.polar td { font-size: 7pt; padding-top: 0px; padding-bottom: 0px; padding-left: 4px; padding-right: 4px; }
.polar th { font-size: 7pt; padding-top: 0px; padding-bottom: 0px; padding-left: 4px; padding-right: 4px; }
.stand-ins td { font-size: 8pt; padding-top: 0px; padding-bottom: 0px; }
.used-up td { font-size: 8pt; padding-top: 0px; padding-bottom: 0px; }
.corners { font-size: 7.5pt; margin-top: 0px; margin-bottom: 0px; }
.template { border-bottom: 0px; vertical-align: bottom; }
ul, ol { margin-top: 0px; margin-bottom: 0px; }
li { margin-top: 2px; margin-bottom: 2px; }
)";

/// What stands between two words of a text, or nothing.
std::string between(const std::string& text, const std::string& from, const std::string& to) {
    const auto start = text.find(from);
    if (start == std::string::npos) return {};
    const auto end = text.find(to, start + from.size());
    if (end == std::string::npos) return {};
    return text.substr(start + from.size(), end - start - from.size());
}

/// Hyphens of words that are kept together as ones that no line breaks at: "60-mL syringe".
std::string with_kept_hyphens(const std::string& html) {
    constexpr std::string_view begin = "<span class=\"keep\">", end = "</span>";
    std::string out;
    std::size_t done = 0;
    for (auto at = html.find(begin); at != std::string::npos; at = html.find(begin, done)) {
        const std::size_t words = at + begin.size(), stop = html.find(end, words);
        if (stop == std::string::npos) break;
        out += html.substr(done, words - done);
        for (const char c : html.substr(words, stop - words))
            out += c == '-' ? std::string("&#8209;") : std::string(1, c);
        done = stop;
    }
    return out + html.substr(done);
}

/// Takes the pictures out of a text and leaves their names.
std::vector<SvgPicture> take_pictures(std::string& text) {
    constexpr std::string_view end_tag = "</svg>";
    std::vector<SvgPicture> pictures;
    std::string rest;
    std::size_t done = 0;
    for (auto at = text.find("<svg"); at != std::string::npos; at = text.find("<svg", done)) {
        const auto end = text.find(end_tag, at);
        if (end == std::string::npos) break;
        rest += text.substr(done, at - done) +
                "<img src=\"picture:" + std::to_string(pictures.size()) + "\"/>";
        done = end + end_tag.size();
        pictures.emplace_back(QByteArray::fromStdString(text.substr(at, done - at)));
    }
    text = rest + text.substr(done);
    return pictures;
}

/// Rules and coloured rows without gaps between their cells.
void close_cells(QTextFrame& frame) {
    for (QTextFrame* child : frame.childFrames()) {
        if (auto* table = qobject_cast<QTextTable*>(child)) {
            QTextTableFormat format = table->format();
            format.setCellSpacing(0.0);
            table->setFormat(format);
        }
        close_cells(*child);
    }
}

/// The parts of a document painted on pages, with a line at the foot of each.
class Pages {
public:
    Pages(QPdfWriter& writer, QTextDocument& document, const Paper& paper, QString title)
        : writer_(writer), document_(document), paper_(paper), title_(std::move(title)) {}

    [[nodiscard]] bool paint() {
        QPainter painter;
        if (!painter.begin(&writer_)) return false;
        const double height = (paper_.height - top_mm - bottom_mm) * units_per_mm;
        const std::vector<PagePart> parts = page_parts(document_, height);
        const int count = static_cast<int>(parts.size());
        for (int i = 0; i < count; ++i) {
            if (i > 0 && !writer_.newPage()) return false;
            const PagePart& part = parts[static_cast<std::size_t>(i)];
            painter.save();
            painter.translate(side_mm * units_per_mm, top_mm * units_per_mm);
            const double whole = part.head.height() + part.body.height();
            const double shrink = whole > height + spare_mm * units_per_mm ? height / whole : 1.0;
            painter.scale(shrink, shrink);
            strip(painter, part.head);
            strip(painter, part.body);
            painter.restore();
            foot(painter, i + 1, count);
        }
        return painter.end();
    }

private:
    /// Paints a stretch of the document and moves the painter below it.
    void strip(QPainter& painter, const Stretch& stretch) {
        if (!(stretch.height() > 0.0)) return;
        const QRectF part(0.0, stretch.top, document_.textWidth(), stretch.height());
        painter.save();
        painter.translate(0.0, -stretch.top);
        painter.setClipRect(part);
        QAbstractTextDocumentLayout::PaintContext context;
        // Less than the strip, or the line that begins the next one is written here too, unseen.
        const double inside = 0.1 * units_per_mm;
        context.clip = part.adjusted(0.0, inside, 0.0, -inside);
        context.palette.setColor(QPalette::Text, QColor(0x1c, 0x27, 0x30));
        document_.documentLayout()->draw(&painter, context);
        painter.restore();
        painter.translate(0.0, stretch.height());
    }

    void foot(QPainter& painter, int page, int count) {
        QFont font = document_.defaultFont();
        font.setPointSizeF(7.5);
        painter.setFont(font);
        painter.setPen(QColor(0x55, 0x63, 0x6c));
        const QRectF line(side_mm * units_per_mm, (paper_.height - 11.0) * units_per_mm,
                          (paper_.width - 2.0 * side_mm) * units_per_mm, 6.0 * units_per_mm);
        const QFontMetricsF metrics(font, &writer_);
        painter.drawText(line, Qt::AlignLeft | Qt::AlignVCenter,
                         metrics.elidedText(title_, Qt::ElideRight, 0.8 * line.width()));
        painter.drawText(line, Qt::AlignRight | Qt::AlignVCenter,
                         QStringLiteral("page %1 of %2").arg(page).arg(count));
    }

    QPdfWriter& writer_;
    QTextDocument& document_;
    const Paper& paper_;
    QString title_;
};

}  // namespace

Result<std::string> sheet_pdf(const std::string& html, const Paper& paper) {
    std::string body = between(html, "<body>", "</body>");
    if (body.empty() || paper.roll)
        return bad_input(paper.roll
                             ? paper.name + ": a job sheet is printed on sheets, A4 or Letter"
                             : "job-sheet.html: holds no job sheet; run `tearline plan`");
    std::vector<SvgPicture> pictures = take_pictures(body);
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    {
        QPdfWriter writer(&buffer);
        writer.setResolution(dots_per_inch);
        const QString title = QString::fromStdString(between(html, "<title>", "</title>"));
        QTextDocument plain;  // of the title's own markup
        plain.setHtml(title);
        name_pdf(writer, plain.toPlainText());
        writer.setPageSize(QPageSize(QSizeF(paper.width, paper.height), QPageSize::Millimeter,
                                     QString::fromStdString(paper.name), QPageSize::ExactMatch));
        writer.setPageMargins(QMarginsF(0, 0, 0, 0));

        QTextDocument document;
        document.documentLayout()->setPaintDevice(&writer);
        QTextOption wrap = document.defaultTextOption();
        wrap.setWrapMode(QTextOption::WrapAtWordBoundaryOrAnywhere);  // names of 200 letters
        document.setDefaultTextOption(wrap);
        PictureHandler handler(std::move(pictures), units_per_mm, paper.width - 2.0 * side_mm);
        document.documentLayout()->registerHandler(QTextFormat::ImageObject, &handler);
        // As wide as Helvetica, whatever a machine has of it: in a wider one narrow columns break
        // words.
        QFont font({QStringLiteral("Helvetica"), QStringLiteral("Nimbus Sans"),
                    QStringLiteral("Liberation Sans"), QStringLiteral("Arimo")});
        font.setStyleHint(QFont::SansSerif);
        font.setPointSizeF(9.0);
        document.setDefaultFont(font);
        document.setDocumentMargin(0.0);
        document.setDefaultStyleSheet(QString::fromLatin1(style));
        document.setHtml(QString::fromStdString(with_kept_hyphens(body)));
        close_cells(*document.rootFrame());
        document.setTextWidth((paper.width - 2.0 * side_mm) * units_per_mm);
        if (!Pages(writer, document, paper, plain.toPlainText()).paint())
            return output_failed("print: the job sheet's PDF could not be made");
    }
    std::string pdf(bytes.constData(), static_cast<std::size_t>(bytes.size()));
    forget_the_time(pdf);
    return pdf;
}

}  // namespace tearline::paper
