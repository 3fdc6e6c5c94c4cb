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
#include <numbers>
#include <optional>
#include <vector>

#include "core/drawing/line_style.h"
#include "core/drawing/place_words.h"
#include "core/paper/paint_parts.h"

namespace tearline::paper {

namespace {

constexpr double clip_margin = 0.6;  // [mm] so that a line along the frame keeps its width

QPen pen_for(drawing::Role role) {
    const drawing::LineStyle style = drawing::line_style(role).value_or(drawing::LineStyle{});
    QPen pen(Qt::black, style.width);
    if (style.dash[0] > 0.0)  // Qt counts dashes in widths of the pen
        pen.setDashPattern({style.dash[0] / style.width, style.dash[1] / style.width});
    pen.setCapStyle(Qt::FlatCap);
    pen.setJoinStyle(Qt::RoundJoin);
    return pen;
}

void paint_drawing(QPainter& painter, const Drawing& drawing, const Box& window) {
    painter.setBrush(Qt::NoBrush);
    for (const Drawing::Line& line : drawing.lines) {
        painter.setPen(pen_for(line.role));
        QPolygonF points;
        for (const Vec2& point : line.points) points << QPointF(point.x(), point.y());
        if (line.closed)
            painter.drawPolygon(points);
        else
            painter.drawPolyline(points);
    }
    for (const Drawing::Text& text : drawing.texts)
        if (window.touches(box_round(text))) paint_words(painter, text);
}

/// Whether words would stand on what a drawing shows.
bool stands_in_ink(const Assembly& assembly, const Drawing::Text& words) {
    const Box box = box_round(words);
    return std::any_of(assembly.drawings.begin(), assembly.drawings.end(),
                       [&](const Drawing& drawing) { return has_ink(drawing, box); });
}

/// Words along one of the two axes of a page.
Drawing::Text words_on(int axis, const Vec2& middle, const std::string& text, double height) {
    return drawing::words_along(middle, axis == 0 ? Vec2(1, 0) : Vec2(0, 1), text, height);
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
            Vec2 middle = to;
            middle[other] += side == 0.0 ? 1.6 : -1.6;
            const Drawing::Text words =
                words_on(axis, middle, std::to_string(std::lround(at)), 1.3);
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

/// Words along a side of the window, clear of the ticks' numbers and, if that can be, of what is
/// drawn: between two numbers, as near to the middle as may be.
///
/// @param across  [mm] where their middle is across that side
/// @param inward  [mm] that they may be moved across it where nothing is free, past the numbers
Drawing::Text between_numbers(const Assembly& assembly, const Box& window, const std::string& text,
                              int axis, double across, double inward) {
    const double low = window.low[axis], high = window.high[axis], centre = 0.5 * (low + high);
    constexpr double number_room = 3.0;  // [mm] to either side of a number's middle
    std::optional<Drawing::Text> first;
    for (const double height : {1.4, 1.05}) {
        const double half = 0.5 * (text_width(text, height) + height);
        const double slack = 25.0 - number_room - half;
        std::vector<double> places;
        for (double at = 50.0 * std::floor(low / 50.0) + 25.0; at < high; at += 50.0)
            for (double off = -3.0 * std::floor(slack / 3.0); off <= slack; off += 3.0)
                if (at + off - half > low && at + off + half < high) places.push_back(at + off);
        std::stable_sort(places.begin(), places.end(), [centre](double a, double b) {
            return std::abs(a - centre) < std::abs(b - centre);
        });
        for (const double further : {0.0, 0.5 * inward, inward})
            for (const double at : places) {
                Vec2 middle;
                middle[axis] = at;
                middle[1 - axis] = across + further;
                const Drawing::Text words = words_on(axis, middle, text, height);
                if (!first) first = words;
                if (!stands_in_ink(assembly, words)) return words;
            }
    }
    return first.value_or(Drawing::Text{});
}

/// Where neighbours are glued over this page, and which of its own sides are trimmed.
void paint_glue(QPainter& painter, const Assembly& assembly, const Tile& tile) {
    const Box window = assembly.window_of(tile);
    const auto neighbour = [&](int dx, int dy) { return Tile{tile.column + dx, tile.row + dy}; };
    QPen dashed(QColor(60, 60, 60), 0.2);
    dashed.setDashPattern({6.0, 6.0});
    const auto say = [&](int axis, double across, const std::string& text, double inward = 0.0) {
        paint_words(painter, between_numbers(assembly, window, text, axis, across, inward),
                    QColor(60, 60, 60));
    };
    const double half = glue_overlap / 2.0, off = 6.5, inward = 12.0;
    if (assembly.has(neighbour(1, 0))) {
        const double x = window.high.x() - glue_overlap;
        painter.setPen(dashed);
        painter.drawLine(QPointF(x, window.low.y()), QPointF(x, window.high.y()));
        say(1, x + half, "glue " + tile_name(neighbour(1, 0), assembly.rows) + " over this");
    }
    if (assembly.has(neighbour(0, 1))) {
        const double y = window.high.y() - glue_overlap;
        painter.setPen(dashed);
        painter.drawLine(QPointF(window.low.x(), y), QPointF(window.high.x(), y));
        say(0, y + half, "glue " + tile_name(neighbour(0, 1), assembly.rows) + " over this");
    }
    if (assembly.has(neighbour(-1, 0)))
        say(1, window.low.x() + off, "TRIM along this frame line", inward);
    if (assembly.has(neighbour(0, -1)))
        say(0, window.low.y() + off, "TRIM along this frame line", inward);
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

void paint_words(QPainter& painter, const Drawing::Text& words, const QColor& colour) {
    if (words.text.empty()) return;
    const double height = words.up.norm();
    const Vec2 along = -turned_left(words.up) / height;
    // Fonts are laid out at a large size and scaled: at 3 pixels hinting would round every letter.
    constexpr double font_pixels = 100.0;
    constexpr double capital_by_em = 0.729;  // of DejaVu Sans
    const double scale = height / capital_by_em / font_pixels;
    QFont font;
    font.setPixelSize(static_cast<int>(font_pixels));
    font.setBold(words.bold || words.warning || height >= bold_from);
    font.setHintingPreference(QFont::PreferNoHinting);
    const QString text = QString::fromStdString(words.text);
    const double natural = QFontMetricsF(font).horizontalAdvance(text);
    const double room = drawing::width_of(words);
    painter.save();
    painter.translate(words.base.x(), words.base.y());
    painter.rotate(std::atan2(along.y(), along.x()) * 180.0 / std::numbers::pi);
    painter.scale(std::min(scale, room / natural), -scale);
    painter.setFont(font);
    painter.setPen(colour);
    painter.drawText(QPointF(words.from_left ? 0.0 : -0.5 * natural, 0.0), text);
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
