#pragma once
#include <QBrush>
#include <QFont>
#include <QPaintDevice>
#include <QPaintEngine>
#include <QPainter>
#include <QPainterPath>
#include <QPen>
#include <QPolygonF>
#include <QString>
#include <QTransform>
#include <memory>
#include <vector>

namespace tearline::paper {

/// What was painted on a device, in its own units, for tests that measure.
struct Painted {
    struct Line {
        QPolygonF points;
        bool closed = false;
        double width = 0.0;      ///< [device units]
        QList<qreal> dash{};     ///< [device units] ink, gap, ...; empty: solid
        QColor ink{}, filled{};  ///< invalid: none
        [[nodiscard]] QRectF box() const { return points.boundingRect(); }
    };
    struct Words {
        QString text;
        QPolygonF box;  ///< from the base line's left end round: advance by capital height
        double height;  ///< [device units] of a capital letter of DejaVu Sans
        bool bold;
        QColor colour;
        [[nodiscard]] double width() const { return QLineF(box[0], box[1]).length(); }
        [[nodiscard]] QPointF middle() const { return 0.5 * (box[0] + box[2]); }
        [[nodiscard]] std::string said() const { return text.toStdString(); }
    };

    std::vector<Line> lines;
    std::vector<Words> words;

    /// Bars, rules and other areas painted in one colour.
    [[nodiscard]] std::vector<QRectF> filled_with(const QColor& colour) const {
        std::vector<QRectF> found;
        for (const Line& line : lines)
            if (line.filled == colour) found.push_back(line.box());
        return found;
    }
};

/// A device that keeps what is painted on it.
class Recorder : public QPaintDevice {
public:
    Painted painted;

    Recorder() : engine_(std::make_unique<Engine>(*this)) {}
    [[nodiscard]] QPaintEngine* paintEngine() const override { return engine_.get(); }

protected:
    int metric(PaintDeviceMetric metric) const override {
        switch (metric) {
            case PdmWidth:
            case PdmHeight:
                return 20000;
            case PdmWidthMM:
            case PdmHeightMM:
                return 5080;
            case PdmNumColors:
                return 1 << 24;
            case PdmDepth:
                return 32;
            case PdmDevicePixelRatio:
                return 1;
            case PdmDpiX:
            case PdmDpiY:
            case PdmPhysicalDpiX:
            case PdmPhysicalDpiY:
                return 100;
            default:  // of later versions of Qt: the ratio of pixels in two halves
                return QPaintDevice::metric(metric);
        }
    }

private:
    class Engine : public QPaintEngine {
    public:
        explicit Engine(Recorder& to) : QPaintEngine(AllFeatures), to_(to.painted) {}
        bool begin(QPaintDevice*) override { return true; }
        bool end() override { return true; }
        void updateState(const QPaintEngineState&) override {}
        [[nodiscard]] Type type() const override { return User; }
        void drawPixmap(const QRectF&, const QPixmap&, const QRectF&) override {}

        void drawPath(const QPainterPath& path) override {
            constexpr double fine = 100.0;  // arcs become chords far below what is measured
            const QTransform larger =
                painter()->combinedTransform() * QTransform::fromScale(fine, fine);
            for (const QPolygonF& part : path.toSubpathPolygons(larger))
                keep(QTransform::fromScale(1.0 / fine, 1.0 / fine).map(part), part.isClosed(),
                     true);
        }
        void drawPolygon(const QPointF* points, int count, PolygonDrawMode mode) override {
            keep(mapped(QPolygonF(QList<QPointF>(points, points + count))), mode != PolylineMode,
                 mode != PolylineMode);
        }
        void drawLines(const QLineF* lines, int count) override {
            for (int i = 0; i < count; ++i)
                keep(mapped(QPolygonF({lines[i].p1(), lines[i].p2()})), false, false);
        }
        void drawTextItem(const QPointF& at, const QTextItem& item) override {
            const QTransform to = painter()->combinedTransform();
            const double capital = 0.729 * painter()->font().pixelSize();
            const QRectF box(at.x(), at.y() - capital, item.width(), capital);
            const QPolygonF round(
                {box.bottomLeft(), box.bottomRight(), box.topRight(), box.topLeft()});
            const QPolygonF placed = to.map(round);
            to_.words.push_back({item.text(), placed, QLineF(placed[0], placed[3]).length(),
                                 painter()->font().bold(), painter()->pen().color()});
        }

    private:
        [[nodiscard]] QPolygonF mapped(const QPolygonF& points) const {
            return painter()->combinedTransform().map(points);
        }
        void keep(const QPolygonF& points, bool closed, bool area) {
            const double scale = std::sqrt(std::abs(painter()->combinedTransform().determinant()));
            const QPen pen = painter()->pen();
            Painted::Line line{points, closed};
            if (pen.style() != Qt::NoPen) {
                line.ink = pen.color();
                line.width = pen.widthF() * scale;
                if (pen.style() == Qt::CustomDashLine)
                    for (const qreal part : pen.dashPattern()) line.dash << part * line.width;
            }
            if (area && painter()->brush().style() != Qt::NoBrush)
                line.filled = painter()->brush().color();
            to_.lines.push_back(std::move(line));
        }
        Painted& to_;
    };
    std::unique_ptr<Engine> engine_;
};

}  // namespace tearline::paper
