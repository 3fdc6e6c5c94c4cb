#include "core/templates/mark.h"

#include <cmath>
#include <numbers>

#include "core/base/overloaded.h"

namespace tearline::templates {

namespace {

const char* kind_of(Arrow::To to) {
    switch (to) {
        case Arrow::To::bow:
            return "bow";
        case Arrow::To::up:
            return "up";
        case Arrow::To::starboard:
            break;
    }
    return "starboard";
}

Vec2 mean(const std::vector<Vec2>& points) {
    Vec2 sum(0, 0);
    for (const Vec2& p : points) sum += p / static_cast<double>(points.size());
    return sum;
}

}  // namespace

Loop2 PressFirst::ring() const {
    constexpr int corners = 24;
    Loop2 ring;
    for (int i = 0; i < corners; ++i) {
        const double a = 2.0 * std::numbers::pi * i / corners;
        ring.push_back(middle + radius * Vec2(std::cos(a), std::sin(a)));
    }
    return ring;
}

std::optional<Vec2> datum_of(const std::vector<Mark>& marks) {
    for (const Mark& mark : marks)
        if (const auto* datum = std::get_if<Datum>(&mark)) return datum->middle;
    return std::nullopt;
}

MarkFields fields_of(const Mark& mark) {
    return std::visit(
        Overloaded{
            [](const Datum& datum) -> MarkFields {
                const Vec2 x(datum.arm, 0), y(0, datum.arm);
                return {"datum",
                        {datum.middle - x, datum.middle + x, datum.middle - y, datum.middle + y},
                        datum.text};
            },
            [](const Arrow& arrow) -> MarkFields {
                return {kind_of(arrow.to), {arrow.tail, arrow.tip}, arrow.text};
            },
            [](const Fibre& fibre) -> MarkFields {
                return {"fibre", {fibre.from, fibre.to}, std::string(Fibre::words)};
            },
            [](const Tick& tick) -> MarkFields {
                return {"tick", {tick.inner, tick.outer}, tick.towards};
            },
            [](const Tape& tape) -> MarkFields {
                return {"tape", {tape.inner, tape.outer}, tape.text};
            },
            [](const BandSection& section) -> MarkFields {
                return {"band_section", section.line, section.text};
            },
            [](const PressFirst& press) -> MarkFields {
                return {"press_first", press.ring(), std::string(PressFirst::words)};
            },
            [](const NextEdge& edge) -> MarkFields {
                return {edge.closed ? "next_edge" : "next_edge_part", edge.line,
                        std::string(NextEdge::words)};
            },
            [](const HullEnd& end) -> MarkFields {
                return {"hull_end", end.run, std::string(HullEnd::words)};
            },
            [](const Fold& fold) -> MarkFields {
                return {"fold", fold.line, fold.text};
            },
            [](const Joint& joint) -> MarkFields {
                return {"joint", joint.run, std::string(Joint::words)};
            },
            [](const Kerf& kerf) -> MarkFields {
                return {"kerf", {kerf.from, kerf.to}, std::string(Kerf::words)};
            },
            [](const Label& label) -> MarkFields {
                return {label.warning ? "warning" : "label",
                        {label.base, label.base + label.up},
                        label.text};
            },
        },
        mark);
}

std::optional<Mark> mark_of(const MarkFields& fields) {
    const auto& [kind, points, text] = fields;
    if (points.empty()) return std::nullopt;
    const Vec2& first = points[0];
    if (kind == "label" || kind == "warning") {
        constexpr double usual = 2.3;  // [mm] where a plan gives the base line alone
        const Vec2 up = points.size() > 1 ? Vec2(points[1] - first) : Vec2(0, usual);
        return Label{first, up, text, kind == "warning"};
    }
    if (points.size() < 2) return std::nullopt;
    const Vec2& second = points[1];
    if (kind == "datum") return Datum{0.5 * (first + second), 0.5 * (second - first).norm(), text};
    for (const Arrow::To to : {Arrow::To::bow, Arrow::To::up, Arrow::To::starboard})
        if (kind == kind_of(to)) return Arrow{to, first, second, text};
    if (kind == "fibre") return Fibre{first, second};
    if (kind == "tick") return Tick{first, second, text};
    if (kind == "tape") return Tape{first, second, text};
    if (kind == "band_section") return BandSection{points, text};
    if (kind == "press_first") {
        const Vec2 middle = mean(points);
        return PressFirst{middle, (first - middle).norm()};
    }
    if (kind == "next_edge" || kind == "next_edge_part")
        return NextEdge{points, kind == "next_edge"};
    if (kind == "hull_end") return HullEnd{points};
    if (kind == "fold") return Fold{points, text};
    if (kind == "joint") return Joint{points};
    if (kind == "kerf") return Kerf{first, second};
    return std::nullopt;
}

}  // namespace tearline::templates
