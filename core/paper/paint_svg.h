#pragma once
#include <QByteArray>
#include <QRectF>
#include <QSizeF>

class QPainter;

namespace tearline::paper {

/// A picture of a plan's own files: paths, rectangles, circles and words, clipped where they say.
///
/// It knows the part of SVG that core/job_sheet writes, no more; what it does not know it leaves
/// out.
class SvgPicture {
public:
    explicit SvgPicture(QByteArray text);

    /// [mm] as the picture says.
    [[nodiscard]] QSizeF size_mm() const { return size_; }

    /// Draws it into a rectangle of the painter's own units.
    void paint(QPainter& painter, const QRectF& into) const;

private:
    QByteArray text_;
    QSizeF size_;
    QRectF view_;
};

}  // namespace tearline::paper
