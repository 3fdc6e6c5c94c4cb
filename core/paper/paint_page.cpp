#include "core/paper/paint_page.h"

#include <QColor>
#include <QFont>
#include <QFontMetricsF>
#include <QPainter>
#include <QPen>
#include <QPolygonF>
#include <QString>
#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "core/drawing/line_style.h"
#include "core/paper/paint_parts.h"

namespace tearline::paper {

namespace {

constexpr double clip_margin = 0.6;  // [mm] so that a line along the frame keeps its width

drawing::LineStyle style_of(Pen kind) {
    switch (kind) {
        case Pen::tear:
            return drawing::tear_style;
        case Pen::cut:
            return drawing::cut_style;
        case Pen::net:
            return drawing::net_style;
        case Pen::ring:
            return drawing::ring_style;
        case Pen::next_edge:
            return drawing::next_edge_style;
        case Pen::relief:
            return drawing::relief_style;
        case Pen::mark:
            break;
    }
    return {};
}

QPen pen_for(Pen kind) {
    const drawing::LineStyle style = style_of(kind);
    QPen pen(Qt::black, style.width);
    if (style.dash[0] > 0.0)  // Qt counts dashes in widths of the pen
        pen.setDashPattern({style.dash[0] / style.width, style.dash[1] / style.width});
    return pen;
}

bool meets(const Box& box, const Words& words) {
    Box other;
    for (const Vec2& corner : corners(words)) other.add(corner);
    return (other.low.array() <= box.high.array()).all() &&
           (box.low.array() <= other.high.array()).all();
}

void paint_drawing(QPainter& painter, const Drawing& drawing, const Box& window) {
    for (const Stroke& stroke : drawing.strokes) {
        QPen pen = pen_for(stroke.pen);
        pen.setCapStyle(Qt::FlatCap);
        pen.setJoinStyle(Qt::RoundJoin);
        painter.setPen(pen);
        painter.setBrush(Qt::NoBrush);
        QPolygonF points;
        for (const Vec2& point : stroke.points) points << QPointF(point.x(), point.y());
        if (stroke.closed)
            painter.drawPolygon(points);
        else
            painter.drawPolyline(points);
    }
    for (const Words& words : drawing.words)
        if (meets(window, words)) paint_words(painter, words);
}

/// Whether words would stand on what a drawing shows.
bool stands_in_ink(const Assembly& assembly, const Words& words) {
    Box box;
    for (const Vec2& corner : corners(words)) box.add(corner);
    return std::any_of(assembly.drawings.begin(), assembly.drawings.end(),
                       [&](const Drawing& drawing) { return has_ink(drawing, box); });
}

/// Numbered ticks all round the window, counted from the assembly's corner, and crosses inside.
void paint_grid(QPainter& painter, const Assembly& assembly, const Box& window) {
    const QColor grey(110, 110, 110);
    painter.setPen(QPen(grey, 0.15));
    const auto tick = [&](int axis, double at) {
        const bool numbered = std::lround(at) % 50 == 0;
        const double length = numbered ? 4.0 : 2.0;
        const int other = 1 - axis;
        for (const double side : {0.0, 1.0}) {
            Vec2 from, to;
            from[axis] = to[axis] = at;
            from[other] = side == 0.0 ? window.low[other] : window.high[other];
            to[other] = from[other] + (side == 0.0 ? length : -length);
            painter.drawLine(QPointF(from.x(), from.y()), QPointF(to.x(), to.y()));
            if (!numbered) continue;
            Words words =
                words_at(to, 2.2, std::to_string(std::lround(at)), axis == 0 ? 0.0 : 90.0);
            words.middle[other] += side == 0.0 ? 1.6 : -1.6;
            if (stands_in_ink(assembly, words)) continue;  // its like on the other side is enough
            paint_words(painter, words, grey);
            painter.setPen(QPen(grey, 0.15));
        }
    };
    for (int axis = 0; axis < 2; ++axis)
        for (double at = 10.0 * std::ceil(window.low[axis] / 10.0); at <= window.high[axis];
             at += 10.0)
            tick(axis, at);
    for (double x = 100.0 * std::ceil(window.low.x() / 100.0); x <= window.high.x(); x += 100.0)
        for (double y = 100.0 * std::ceil(window.low.y() / 100.0); y <= window.high.y();
             y += 100.0) {
            painter.drawLine(QPointF(x - 2.0, y), QPointF(x + 2.0, y));
            painter.drawLine(QPointF(x, y - 2.0), QPointF(x, y + 2.0));
        }
}

/// Where along a side of the window words stand clear of the ticks' numbers and, if that can be, of
/// what is drawn: between two numbers, as near to the middle as may be.
///
/// @param words   to be moved along `axis`
/// @param inward  [mm] that they may be moved across it where nothing is free, past the numbers
Words between_numbers(const Assembly& assembly, const Box& window, Words words, int axis,
                      double inward) {
    const double low = window.low[axis], high = window.high[axis], centre = 0.5 * (low + high);
    const double across = words.middle[1 - axis], height = words.height;
    constexpr double number_room = 3.0;  // [mm] to either side of a number's middle
    std::optional<Words> first;
    for (const double smaller : {1.0, 0.75}) {
        words = words_at(words.middle, smaller * height, words.text, words.angle);
        const double half = 0.5 * words.width, slack = 25.0 - number_room - half;
        std::vector<double> places;
        for (double at = 50.0 * std::floor(low / 50.0) + 25.0; at < high; at += 50.0)
            for (double off = -3.0 * std::floor(slack / 3.0); off <= slack; off += 3.0)
                if (at + off - half > low && at + off + half < high) places.push_back(at + off);
        std::stable_sort(places.begin(), places.end(), [centre](double a, double b) {
            return std::abs(a - centre) < std::abs(b - centre);
        });
        for (const double further : {0.0, 0.5 * inward, inward})
            for (const double at : places) {
                words.middle[axis] = at;
                words.middle[1 - axis] = across + further;
                if (!first) first = words;
                if (!stands_in_ink(assembly, words)) return words;
            }
    }
    return first.value_or(words);
}

/// Where neighbours are glued over this page, and which of its own sides are trimmed.
void paint_glue(QPainter& painter, const Assembly& assembly, const Tile& tile) {
    const Box window = assembly.window_of(tile);
    const auto neighbour = [&](int dx, int dy) { return Tile{tile.column + dx, tile.row + dy}; };
    QPen dashed(QColor(60, 60, 60), 0.2);
    dashed.setDashPattern({6.0, 6.0});
    const auto say = [&](const Vec2& at, const std::string& text, int axis, double inward = 0.0) {
        paint_words(painter,
                    between_numbers(assembly, window,
                                    words_at(at, 2.4, text, axis == 0 ? 0.0 : 90.0), axis, inward),
                    QColor(60, 60, 60));
    };
    const double half = glue_overlap / 2.0, off = 6.5, inward = 12.0;
    if (assembly.has(neighbour(1, 0))) {
        const double x = window.high.x() - glue_overlap;
        painter.setPen(dashed);
        painter.drawLine(QPointF(x, window.low.y()), QPointF(x, window.high.y()));
        say({x + half, 0.0}, "glue " + tile_name(neighbour(1, 0), assembly.rows) + " over this", 1);
    }
    if (assembly.has(neighbour(0, 1))) {
        const double y = window.high.y() - glue_overlap;
        painter.setPen(dashed);
        painter.drawLine(QPointF(window.low.x(), y), QPointF(window.high.x(), y));
        say({0.0, y + half}, "glue " + tile_name(neighbour(0, 1), assembly.rows) + " over this", 0);
    }
    if (assembly.has(neighbour(-1, 0)))
        say({window.low.x() + off, 0.0}, "TRIM along this frame line", 1, inward);
    if (assembly.has(neighbour(0, -1)))
        say({0.0, window.low.y() + off}, "TRIM along this frame line", 0, inward);
}

void paint_window(QPainter& painter, const Assembly& assembly, const Tile& tile) {
    const Box window = assembly.window_of(tile);
    const QRectF rect(window.low.x(), window.low.y(), window.size().x(), window.size().y());
    painter.save();
    painter.translate(assembly.frame.window.low.x() - window.low.x(),
                      assembly.frame.window.low.y() - window.low.y());
    // The grid too: a cross on the frame would reach where printers do not.
    painter.setClipRect(rect.adjusted(-clip_margin, -clip_margin, clip_margin, clip_margin));
    paint_grid(painter, assembly, window);
    paint_glue(painter, assembly, tile);
    painter.setPen(QPen(QColor(110, 110, 110), 0.15));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(rect);
    for (const Drawing& drawing : assembly.drawings)
        if (has_ink(drawing, window)) paint_drawing(painter, drawing, window);
    painter.restore();
}

}  // namespace

void paint_words(QPainter& painter, const Words& words, const QColor& colour) {
    if (words.text.empty()) return;
    painter.save();
    painter.translate(words.middle.x(), words.middle.y());
    painter.rotate(words.angle);
    painter.scale(1.0, -1.0);
    // Fonts are laid out at a large size and scaled: at 3 pixels hinting would round every letter.
    constexpr double font_pixels = 100.0;
    const double size = 0.8 * words.height;
    QFont font;
    font.setPixelSize(static_cast<int>(font_pixels));
    font.setBold(words.bold);
    font.setHintingPreference(QFont::PreferNoHinting);
    const QFontMetricsF metrics(font);
    const QString text = QString::fromStdString(words.text);
    const double natural = metrics.horizontalAdvance(text) * size / font_pixels;
    const double squeeze = natural > words.width ? words.width / natural : 1.0;
    painter.scale(squeeze * size / font_pixels, size / font_pixels);
    painter.setFont(font);
    painter.setPen(colour);
    const double box = words.width / (squeeze * size / font_pixels);
    painter.drawText(QPointF(words.from_left ? -box / 2.0 : -metrics.horizontalAdvance(text) / 2.0,
                             (metrics.ascent() - metrics.descent()) / 2.0),
                     text);
    painter.restore();
}

void paint_page(QPainter& painter, const PrintLayout& layout, std::size_t page,
                double units_per_mm) {
    const Page& shown = layout.pages.at(page);
    const Assembly& assembly = layout.assemblies.at(shown.assembly);
    const double scale = units_per_mm * layout.choice.print_scale;
    painter.save();
    painter.scale(scale, -scale);
    painter.translate(0.0, -assembly.frame.paper.y());
    paint_window(painter, assembly, shown.tile);
    paint_header(painter, layout, page);
    painter.restore();
}

}  // namespace tearline::paper
