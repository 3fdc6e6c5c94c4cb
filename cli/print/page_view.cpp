#include "cli/print/page_view.h"

#include <QPainter>
#include <algorithm>

#include "core/paper/paint_page.h"

namespace tearline::cli {

PageView::PageView(QWidget* parent) : QWidget(parent) {
    setMinimumSize(300, 300);
    setAccessibleName(tr("Preview of the page"));
}

void PageView::show_page(const paper::PrintLayout* layout, std::size_t page) {
    layout_ = layout;
    page_ = page;
    update();
}

void PageView::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.fillRect(rect(), QColor(150, 150, 150));
    if (!layout_ || page_ >= layout_->pages.size()) return;
    const Vec2 paper = layout_->assemblies[layout_->pages[page_].assembly].frame.paper *
                       layout_->choice.print_scale;
    constexpr double border = 12.0;  // [pixels]
    const double scale =
        std::min((width() - 2.0 * border) / paper.x(), (height() - 2.0 * border) / paper.y());
    if (!(scale > 0.0)) return;
    const QRectF sheet((width() - scale * paper.x()) / 2.0, (height() - scale * paper.y()) / 2.0,
                       scale * paper.x(), scale * paper.y());
    painter.fillRect(sheet, Qt::white);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setClipRect(sheet);
    painter.translate(sheet.topLeft());
    paper::paint_page(painter, *layout_, page_, scale);
}

}  // namespace tearline::cli
