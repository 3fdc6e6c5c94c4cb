#pragma once
#include <QObject>
#include <QTextObjectInterface>
#include <vector>

#include "core/paper/paint_svg.h"

namespace tearline::paper {

/// Draws the pictures of a job sheet where its text has them; they are named "picture:0", ...
class PictureHandler : public QObject, public QTextObjectInterface {
    Q_OBJECT
    Q_INTERFACES(QTextObjectInterface)

public:
    /// @param units_per_mm  of the device that the text is laid out for
    PictureHandler(std::vector<SvgPicture> pictures, double units_per_mm, double widest_mm);

    QSizeF intrinsicSize(QTextDocument* document, int at, const QTextFormat& format) override;
    void drawObject(QPainter* painter, const QRectF& into, QTextDocument* document, int at,
                    const QTextFormat& format) override;

private:
    [[nodiscard]] const SvgPicture* named(const QTextFormat& format) const;

    std::vector<SvgPicture> pictures_;
    double units_per_mm_, widest_mm_;
};

}  // namespace tearline::paper
