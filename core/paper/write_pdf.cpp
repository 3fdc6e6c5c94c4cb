#include "core/paper/write_pdf.h"

#include <QBuffer>
#include <QPageLayout>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>

#include "core/base/us_constants.h"
#include "core/paper/paint_page.h"
#include "core/paper/pdf_identity.h"
#include "core/paper/pdf_units.h"

namespace tearline::paper {

namespace {

void set_page(QPdfWriter& writer, const PrintLayout& layout, const Page& page) {
    const Vec2 size = layout.assemblies[page.assembly].frame.paper * layout.choice.print_scale;
    writer.setPageSize(QPageSize(QSizeF(size.x(), size.y()), QPageSize::Millimeter,
                                 QString::fromStdString(layout.choice.paper.name),
                                 QPageSize::ExactMatch));
    writer.setPageMargins(QMarginsF(0, 0, 0, 0));
}

}  // namespace

Result<std::string> pdf_of(const PrintLayout& layout) {
    if (layout.pages.empty()) return output_failed("print: there is nothing to print");
    QByteArray bytes;
    QBuffer buffer(&bytes);
    buffer.open(QIODevice::WriteOnly);
    {
        QPdfWriter writer(&buffer);
        writer.setResolution(dots_per_inch);
        name_pdf(writer, QString::fromStdString(layout.title));
        set_page(writer, layout, layout.pages.front());
        QPainter painter;
        if (!painter.begin(&writer)) return output_failed("print: the PDF could not be started");
        for (std::size_t i = 0; i < layout.pages.size(); ++i) {
            if (i > 0) {
                set_page(writer, layout, layout.pages[i]);
                if (!writer.newPage()) return output_failed("print: a page could not be added");
            }
            paint_page(painter, layout, i, units_per_mm);
        }
        if (!painter.end()) return output_failed("print: the PDF could not be finished");
    }
    std::string pdf(bytes.constData(), static_cast<std::size_t>(bytes.size()));
    forget_the_time(pdf);
    return pdf;
}

}  // namespace tearline::paper
