#include <QPainter>
#include <QPen>
#include <QPolygonF>
#include <algorithm>

#include "core/base/length_text.h"
#include "core/base/numbers.h"
#include "core/base/sheet_words.h"
#include "core/base/us_constants.h"
#include "core/drawing/place_words.h"
#include "core/paper/paint_parts.h"

namespace tearline::paper {

namespace {

constexpr double bar_thickness = 1.4;      // [mm]
constexpr double circle_across = 20.0;     // [mm]
constexpr double map_width = 40.0;         // [mm]
constexpr double map_letters = 1.75;       // [mm] height of tiles' names on the map
constexpr double least_map_letters = 1.0;  // [mm] that are read
constexpr double fills = 0.85;             // [-] of a tile that its name may fill
constexpr double shown_letters = 2.2;      // [mm] height of what names the drawings
constexpr double narrowest = 0.6;          // [-] of their width that letters may be pressed to
using us::mm_per_inch;

/// Words that start at a place, no wider than the room there.
///
/// @param at      [mm] left of the middle of the capitals
/// @param height  [mm] of a capital
void left_words(QPainter& painter, const Vec2& at, double height, const std::string& text,
                double room, bool bold = false) {
    paint_words(painter,
                {at - Vec2(0.0, 0.5 * height), {0.0, height}, text, false, bold, true, room});
}

/// A solid bar from `from` along +x or +y, measured over its ends, with its length beside it.
void paint_bar(QPainter& painter, const Vec2& from, double length, bool upright,
               const std::string& says) {
    const QRectF bar = upright ? QRectF(from.x(), from.y(), bar_thickness, length)
                               : QRectF(from.x(), from.y(), length, bar_thickness);
    painter.fillRect(bar, Qt::black);
    if (upright)
        paint_words(painter,
                    drawing::words_along({from.x() + bar_thickness + 1.6, from.y() + length / 2.0},
                                         {0.0, 1.0}, says, 1.4));
    else
        left_words(painter, {from.x(), from.y() + bar_thickness + 1.6}, 1.5, says, length);
}

std::string scale_words(const PrintLayout& layout, const PageFrame& frame) {
    const double scale = layout.choice.print_scale;
    if (scale == 1.0) return "print scale 1 (not corrected)";
    const std::string bar = fixed(layout.units == Units::us ? frame.bar_inches : frame.bar_mm, 0) +
                            " " +
                            length_unit(layout.units);  // the bar that the notes say to measure
    return "print scale " + fixed(scale, 4) + " IS IN THIS SHEET: the " + bar +
           " bar must now measure " + bar + "; do not correct again";
}

/// Ids of the drawings that show ink in a tile, with the word for their lines; as many as can be
/// read in a room [mm], and how many more there are.
std::string shown_in(const Assembly& assembly, const Tile& tile, double room) {
    std::string text;
    int more = 0;
    for (const Drawing& drawing : assembly.drawings) {
        if (!has_ink(drawing, assembly.window_of(tile))) continue;
        const std::string one = drawing.name + " " + drawing.line_word;
        const std::string longer = text.empty() ? one : text + ",  " + one;
        if (!text.empty() &&
            (more > 0 || narrowest * text_width(longer + ",  and 99 more", shown_letters) > room))
            ++more;
        else
            text = longer;
    }
    return more > 0 ? text + ",  and " + std::to_string(more) + " more" : text;
}

/// The tiles and which is this one. Of tiles too small for their names it is named alone.
void paint_map(QPainter& painter, const Assembly& assembly, const Tile& at, const Box& room) {
    const Vec2 window = assembly.frame.window.size();
    const Vec2 whole = assembly.window_of({assembly.columns - 1, assembly.rows - 1}).high;
    const double scale = std::min(room.size().x() / whole.x(), room.size().y() / whole.y());
    painter.save();
    painter.translate(room.low.x(), room.low.y());
    painter.scale(scale, scale);
    for (const Tile& tile : assembly.tiles) {
        const Box box = assembly.window_of(tile);
        painter.setPen(QPen(Qt::black, 0.2 / scale));
        painter.setBrush(tile == at ? QBrush(QColor(190, 190, 190)) : QBrush(Qt::NoBrush));
        painter.drawRect(QRectF(box.low.x(), box.low.y(), window.x(), window.y()));
    }
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(QColor(80, 80, 80), 0.15 / scale));
    for (const Drawing& drawing : assembly.drawings)
        for (const Drawing::Line& line : drawing.lines) {
            if (!line.closed) continue;
            QPolygonF points;
            for (const Vec2& point : line.points) points << QPointF(point.x(), point.y());
            painter.drawPolygon(points);
        }
    if (assembly.tiles.size() > 1)
        for (const Tile& tile : assembly.tiles) {
            const bool here = tile == at;
            const std::string name = tile_name(tile, assembly.rows);
            // As large as its own part of the tile holds, what is glued over not counted.
            const double holds = fills * scale * assembly.pitch.x() / text_width(name, 1.0);
            const double letters = std::clamp(holds, least_map_letters, map_letters);
            if (!here && holds < least_map_letters) continue;
            const Box box = assembly.window_of(tile);
            Drawing::Text words =
                drawing::upright_words(0.5 * (box.low + box.high), name, letters / scale);
            words.bold = here;
            paint_words(painter, words);
        }
    painter.restore();
}

std::string place_words(const PrintLayout& layout, std::size_t page) {
    const Page& shown = layout.pages[page];
    const Assembly& assembly = layout.assemblies[shown.assembly];
    std::string text =
        "sheet " + std::to_string(page + 1) + " of " + std::to_string(layout.pages.size());
    if (assembly.tiles.size() > 1)
        text += ", tile " + tile_name(shown.tile, assembly.rows) + " of " +
                std::to_string(assembly.tiles.size());
    return text;
}

}  // namespace

void paint_header(QPainter& painter, const PrintLayout& layout, std::size_t page) {
    const Page& shown = layout.pages[page];
    const Assembly& assembly = layout.assemblies[shown.assembly];
    const PageFrame& frame = assembly.frame;
    const Box& header = frame.header;
    const Vec2 corner(header.low.x(), header.high.y());
    // The map stands beside the bars on wide paper, never farther out than it can be found.
    const double map_left =
        std::min(header.high.x() - map_width, corner.x() + frame.bar_mm + circle_across + 20.0);
    const double room = map_left - corner.x() - 2.0;

    left_words(painter, corner + Vec2(0.0, -2.2), 2.45, "PRINT AT 100 % (actual size)", 0.45 * room,
               true);
    left_words(painter, corner + Vec2(0.47 * room, -2.2), 2.0, scale_words(layout, frame),
               0.53 * room);
    constexpr std::size_t letters = 56;  // of the title: the line stays legible
    const std::string title =
        shortened(layout.title.empty() ? layout.model : layout.title, letters);
    const std::string turned = layout.choice.mirrored ? "MIRRORED   " : "";
    left_words(painter, corner + Vec2(0.0, -7.2), shown_letters,
               turned + shown_in(assembly, shown.tile, room - text_width(turned, shown_letters)),
               room, true);
    left_words(painter, corner + Vec2(0.0, -11.8), 2.0,
               place_words(layout, page) + "   " + title + "   model " + layout.job_id +
                   (layout.units == Units::us ? "   ticks every 0.394 in (10 mm)"
                                              : "   ticks every 10 mm"),
               room);

    const double inches_mm = frame.bar_inches * mm_per_inch;
    paint_bar(painter, {corner.x(), header.low.y() + 10.0}, frame.bar_mm, false,
              "check bar " + fixed(frame.bar_mm, 0) + " mm: measure it over its ends");
    paint_bar(painter, {corner.x(), header.low.y() + 2.5}, inches_mm, false,
              "check bar " + fixed(frame.bar_inches, 0) + " in");
    paint_bar(painter, frame.side.low, frame.bar_mm, true, fixed(frame.bar_mm, 0) + " mm upright");
    painter.setPen(QPen(Qt::black, 0.2));
    painter.setBrush(Qt::NoBrush);
    const Vec2 centre(corner.x() + std::max(frame.bar_mm, inches_mm) + 14.0, header.low.y() + 11.5);
    painter.drawEllipse(QPointF(centre.x(), centre.y()), circle_across / 2.0, circle_across / 2.0);
    paint_words(painter, drawing::upright_words(centre, "circle 20 mm", 1.4));
    paint_map(painter, assembly, shown.tile,
              {{map_left, header.low.y() + 1.5}, {header.high.x(), header.high.y()}});
}

}  // namespace tearline::paper
