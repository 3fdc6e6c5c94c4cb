#include "core/paper/picture_handler.h"

#include <QTextFormat>
#include <algorithm>
#include <utility>

namespace tearline::paper {

PictureHandler::PictureHandler(std::vector<SvgPicture> pictures, double units_per_mm,
                               double widest_mm)
    : pictures_(std::move(pictures)), units_per_mm_(units_per_mm), widest_mm_(widest_mm) {}

const SvgPicture* PictureHandler::named(const QTextFormat& format) const {
    const QString name = format.toImageFormat().name();
    bool good = false;
    const auto index = QStringView(name).mid(name.indexOf(QLatin1Char(':')) + 1).toULongLong(&good);
    return good && index < pictures_.size() ? &pictures_[index] : nullptr;
}

QSizeF PictureHandler::intrinsicSize(QTextDocument*, int, const QTextFormat& format) {
    const SvgPicture* picture = named(format);
    if (picture == nullptr || picture->size_mm().isEmpty()) return {};
    const double shrink = std::min(1.0, widest_mm_ / picture->size_mm().width());
    return picture->size_mm() * shrink * units_per_mm_;
}

void PictureHandler::drawObject(QPainter* painter, const QRectF& into, QTextDocument*, int,
                                const QTextFormat& format) {
    if (const SvgPicture* picture = named(format)) picture->paint(*painter, into);
}

}  // namespace tearline::paper
