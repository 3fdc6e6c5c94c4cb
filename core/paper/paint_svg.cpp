#include "core/paper/paint_svg.h"

#include <QColor>
#include <QFont>
#include <QFontMetricsF>
#include <QHash>
#include <QPainter>
#include <QPainterPath>
#include <QPen>
#include <QXmlStreamReader>

namespace tearline::paper {

namespace {

/// What a group hands down to what it holds.
struct Look {
    QString fill = QStringLiteral("#000"), stroke = QStringLiteral("none");
    double stroke_width = 1.0, opacity = 1.0, stroke_opacity = 1.0;
    double font_size = 4.0;
    QString anchor = QStringLiteral("start"), weight, dashes;
    bool even_odd = false;
    bool round_joins = false;
};

Look look_of(const QXmlStreamAttributes& given, Look look) {
    const auto take = [&given](const char* name, QString& value) {
        if (given.hasAttribute(QLatin1String(name)))
            value = given.value(QLatin1String(name)).toString();
    };
    const auto take_number = [&given](const char* name, double& value) {
        if (given.hasAttribute(QLatin1String(name)))
            value = given.value(QLatin1String(name)).toDouble();
    };
    take("fill", look.fill);
    take("stroke", look.stroke);
    take("text-anchor", look.anchor);
    take("font-weight", look.weight);
    take("stroke-dasharray", look.dashes);
    take_number("stroke-width", look.stroke_width);
    take_number("fill-opacity", look.opacity);
    take_number("stroke-opacity", look.stroke_opacity);
    take_number("font-size", look.font_size);
    for (const char* rule : {"fill-rule", "clip-rule"})
        if (given.hasAttribute(QLatin1String(rule)))
            look.even_odd = given.value(QLatin1String(rule)) == QLatin1String("evenodd");
    if (given.value(QLatin1String("stroke-linejoin")) == QLatin1String("round"))
        look.round_joins = true;
    return look;
}

/// Path data of M, L, H, h, v and Z, which is what is written.
class PathReader {
public:
    explicit PathReader(const QString& data) : data_(data) {}

    QPainterPath read() {
        QPainterPath path;
        QPointF at;
        while (skip(), i_ < data_.size()) {
            const QChar command = data_[i_++];
            if (command == QLatin1Char('M')) path.moveTo(at = point());
            if (command == QLatin1Char('L')) path.lineTo(at = point());
            if (command == QLatin1Char('H')) path.lineTo(at = QPointF(number(), at.y()));
            if (command == QLatin1Char('h')) path.lineTo(at += QPointF(number(), 0.0));
            if (command == QLatin1Char('v')) path.lineTo(at += QPointF(0.0, number()));
            if (command == QLatin1Char('Z')) {
                path.closeSubpath();
                at = path.currentPosition();
            }
        }
        return path;
    }

private:
    void skip() {
        while (i_ < data_.size() && (data_[i_].isSpace() || data_[i_] == QLatin1Char(','))) ++i_;
    }
    double number() {
        skip();
        const auto from = i_;
        while (i_ < data_.size() && (data_[i_].isDigit() || data_[i_] == QLatin1Char('.') ||
                                     data_[i_] == QLatin1Char('-')))
            ++i_;
        return QStringView(data_).mid(from, i_ - from).toDouble();
    }
    QPointF point() {
        const double x = number();
        return {x, number()};
    }

    const QString& data_;
    qsizetype i_ = 0;
};

double figure(const QXmlStreamAttributes& given, const char* name) {
    return given.value(QLatin1String(name)).toDouble();
}

QPainterPath shape_of(QStringView name, const QXmlStreamAttributes& given) {
    QPainterPath path;
    if (name == QLatin1String("path"))
        path = PathReader(given.value(QLatin1String("d")).toString()).read();
    if (name == QLatin1String("rect"))
        path.addRoundedRect(QRectF(figure(given, "x"), figure(given, "y"), figure(given, "width"),
                                   figure(given, "height")),
                            figure(given, "rx"), figure(given, "rx"));
    if (name == QLatin1String("circle"))
        path.addEllipse(QPointF(figure(given, "cx"), figure(given, "cy")), figure(given, "r"),
                        figure(given, "r"));
    return path;
}

/// "url(#name)" to "name".
QString clip_name(const QXmlStreamAttributes& given) {
    const QString text = given.value(QLatin1String("clip-path")).toString();
    return text.mid(5, text.size() - 6);
}

class Painting {
public:
    Painting(QPainter& painter, const QByteArray& text) : painter_(painter), xml_(text) {}

    void run() {
        if (xml_.readNextStartElement()) children(look_of(xml_.attributes(), {}));
    }

private:
    void children(const Look& look) {
        while (xml_.readNextStartElement()) element(look);
    }

    void element(const Look& outer) {
        const QXmlStreamAttributes given = xml_.attributes();
        const Look look = look_of(given, outer);
        const QStringView name = xml_.name();
        if (name == QLatin1String("g")) {
            group(given, look);
        } else if (name == QLatin1String("clipPath")) {
            clips_.insert(given.value(QLatin1String("id")).toString(), clip(look));
        } else if (name == QLatin1String("text")) {
            words(QPointF(figure(given, "x"), figure(given, "y")), xml_.readElementText(), look);
        } else {
            if (const QPainterPath shape = shape_of(name, given); !shape.isEmpty())
                draw(shape, look);
            xml_.skipCurrentElement();
        }
    }

    void group(const QXmlStreamAttributes& given, const Look& look) {
        painter_.save();
        if (const auto clip = clips_.constFind(clip_name(given)); clip != clips_.constEnd())
            painter_.setClipPath(*clip, Qt::IntersectClip);
        children(look);
        painter_.restore();
    }

    QPainterPath clip(const Look& outer) {
        QPainterPath all;
        while (xml_.readNextStartElement()) {
            const Look look = look_of(xml_.attributes(), outer);
            all.setFillRule(look.even_odd ? Qt::OddEvenFill : Qt::WindingFill);
            all.addPath(shape_of(xml_.name(), xml_.attributes()));
            xml_.skipCurrentElement();
        }
        return all;
    }

    void draw(QPainterPath shape, const Look& look) {
        shape.setFillRule(look.even_odd ? Qt::OddEvenFill : Qt::WindingFill);
        if (look.fill != QLatin1String("none")) {
            QColor colour(look.fill);
            colour.setAlphaF(static_cast<float>(look.opacity));
            painter_.fillPath(shape, colour);
        }
        if (look.stroke == QLatin1String("none")) return;
        QColor ink(look.stroke);
        ink.setAlphaF(static_cast<float>(look.stroke_opacity));
        QPen pen(ink, look.stroke_width);
        pen.setCapStyle(Qt::FlatCap);
        pen.setJoinStyle(look.round_joins ? Qt::RoundJoin : Qt::MiterJoin);
        if (!look.dashes.isEmpty()) {
            QList<qreal> pattern;  // Qt counts dashes in widths of the pen
            for (const QString& dash : look.dashes.split(QLatin1Char(' ')))
                pattern << dash.toDouble() / look.stroke_width;
            pen.setDashPattern(pattern);
        }
        painter_.strokePath(shape, pen);
    }

    /// Words as outlines of letters scaled from a size that fonts are made for.
    void words(const QPointF& at, const QString& text, const Look& look) {
        constexpr int drawn_size = 100;
        QFont font(QStringLiteral("Helvetica"));
        font.setStyleHint(QFont::SansSerif);
        font.setPixelSize(drawn_size);
        font.setBold(look.weight == QLatin1String("bold"));
        const double scale = look.font_size / drawn_size;
        const double width = QFontMetricsF(font).horizontalAdvance(text);
        const double shift = look.anchor == QLatin1String("middle") ? -0.5 * width
                             : look.anchor == QLatin1String("end")  ? -width
                                                                    : 0.0;
        painter_.save();
        painter_.translate(at);
        painter_.scale(scale, scale);
        QPainterPath letters;
        letters.addText(QPointF(shift, 0.0), font, text);
        painter_.fillPath(letters, QColor(look.fill));
        painter_.restore();
    }

    QPainter& painter_;
    QXmlStreamReader xml_;
    QHash<QString, QPainterPath> clips_;
};

double millimetres(QStringView text) {
    return (text.endsWith(QLatin1String("mm")) ? text.chopped(2) : text).toDouble();
}

}  // namespace

SvgPicture::SvgPicture(QByteArray text) : text_(std::move(text)) {
    QXmlStreamReader xml(text_);
    if (!xml.readNextStartElement()) return;
    const QXmlStreamAttributes given = xml.attributes();
    size_ = QSizeF(millimetres(given.value(QLatin1String("width"))),
                   millimetres(given.value(QLatin1String("height"))));
    const auto box = given.value(QLatin1String("viewBox")).split(QLatin1Char(' '));
    view_ = box.size() == 4
                ? QRectF(box[0].toDouble(), box[1].toDouble(), box[2].toDouble(), box[3].toDouble())
                : QRectF(QPointF(0, 0), size_);
}

void SvgPicture::paint(QPainter& painter, const QRectF& into) const {
    if (view_.isEmpty()) return;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.translate(into.topLeft());
    painter.scale(into.width() / view_.width(), into.height() / view_.height());
    painter.translate(-view_.topLeft());
    Painting(painter, text_).run();
    painter.restore();
}

}  // namespace tearline::paper
