#include "core/layout/read_dxf_outline.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <iterator>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include "core/base/numbers.h"
#include "core/job/node.h"
#include "core/layout/tolerances.h"

namespace tearline::layout {

namespace {

constexpr std::size_t most_bytes = 16u << 20u;  // a drawing of one outline is a few kB
constexpr double same_point = 0.01;  ///< [-] of the file's unit times its extent / 1000: see joined
constexpr double step_degrees = 3.0;  ///< of an arc: 0.07 mm off on a radius of 200
constexpr double farthest = 1e9;
constexpr double least_upright = 0.999999;  ///< [-] of a normal's z: what is less is tilted

/// A group of a DXF file: its code and what stands under it.
struct Group {
    int code = 0;
    std::string_view value;
};

bool is_end(const Group& group) {
    return group.code == 0 && group.value == "EOF";
}

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

/// Pairs of lines; nothing where they are none.
std::optional<std::vector<Group>> groups_of(std::string_view text) {
    std::vector<Group> out;
    const auto line = [&text] {
        const auto end = text.find('\n');
        const std::string_view found = trimmed(text.substr(0, end));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        return found;
    };
    while (!trimmed(text.substr(0, std::min<std::size_t>(text.size(), 64))).empty()) {
        const auto code = read_number(line());
        if (!code || !(std::abs(*code) < 2000.0)) return std::nullopt;
        out.push_back({static_cast<int>(*code), line()});
        if (is_end(out.back())) break;
    }
    return out;
}

/// A point of a polyline with the bulge of what follows.
struct Corner {
    Vec2 at{0, 0};
    double bulge = 0.0;  ///< tangent of a quarter of the arc's angle, positive to the left
};

/// The points of an arc after its first, its last included.
void add_arc(const Vec2& from, const Vec2& to, double bulge, Loop2& out) {
    const double angle = 4.0 * std::atan(bulge);
    const Vec2 chord = to - from;
    const double half = 0.5 * chord.norm();
    if (!(std::abs(bulge) > tolerance::straight_bulge) || !(half > 0.0)) return out.push_back(to);
    const Vec2 left = Vec2(-chord.y(), chord.x()) / (2.0 * half);
    const Vec2 centre = 0.5 * (from + to) + left * (half / std::tan(0.5 * angle));
    const Vec2 start = from - centre;
    const int steps = std::max(
        1, static_cast<int>(std::ceil(std::abs(angle) * 180.0 / std::numbers::pi / step_degrees)));
    for (int i = 1; i < steps; ++i) {
        const double turn = angle * i / steps, c = std::cos(turn), s = std::sin(turn);
        out.emplace_back(centre +
                         Vec2(c * start.x() - s * start.y(), s * start.x() + c * start.y()));
    }
    out.push_back(to);
}

/// What of one entity counts here.
struct Entity {
    std::string_view type;
    std::vector<Corner> corners;
    double radius = 0.0, from_degrees = 0.0, to_degrees = 0.0;
    Vec2 end{0, 0};
    int flags = 0;
    bool bad = false;       ///< a figure that is none
    bool on_paper = false;  ///< in a layout's frame, not in the drawing
    bool tilted = false;    ///< in a plane that is not seen from above
};

/// What is written or measured on a drawing and is no line of it.
constexpr std::array<std::string_view, 12> notes = {
    "POINT",     "TEXT",   "MTEXT",   "ATTDEF",      "ATTRIB",   "DIMENSION",
    "TOLERANCE", "LEADER", "MLEADER", "MULTILEADER", "VIEWPORT", "SEQEND"};

/// Flags of polylines and their vertices.
constexpr int closed_flag = 1, mesh_flags = 16 + 64, control_point_flag = 16;

void take(const Group& group, Entity& entity) {
    const auto number = [&]() -> double {
        const auto read = read_number(group.value);
        if (!read || !(std::abs(*read) < farthest)) return entity.bad = true, 0.0;
        return *read;
    };
    switch (group.code) {
        case 10:
            entity.corners.push_back({Vec2(number(), 0.0), 0.0});
            break;
        case 20:
            if (!entity.corners.empty()) entity.corners.back().at.y() = number();
            break;
        case 11:
            entity.end.x() = number();
            break;
        case 21:
            entity.end.y() = number();
            break;
        case 40:
            entity.radius = number();
            break;
        case 42:
            if (!entity.corners.empty()) entity.corners.back().bulge = number();
            break;
        case 50:
            entity.from_degrees = number();
            break;
        case 51:
            entity.to_degrees = number();
            break;
        case 67:
            entity.on_paper = number() != 0.0;
            break;
        case 230:
            entity.tilted = number() < least_upright;
            break;
        case 70:
            entity.flags = static_cast<int>(number());
            break;
        default:
            break;
    }
}

/// Entities of the drawing itself, in the order of the file.
std::vector<Entity> entities_of(const std::vector<Group>& groups) {
    std::vector<Entity> out;
    bool inside = false, named = false;
    for (const Group& group : groups) {
        if (group.code == 0 && group.value == "SECTION") {
            named = true;
            inside = false;
        } else if (group.code == 0 && group.value == "ENDSEC") {
            inside = false;
        } else if (named && group.code == 2) {
            inside = group.value == "ENTITIES";
            named = false;
        } else if (inside && group.code == 0) {
            out.emplace_back().type = group.value;
        } else if (inside && !out.empty()) {
            take(group, out.back());
        }
    }
    return out;
}

/// What the header says that a unit of the drawing is, "" where it does not.
std::string_view unit_of(const std::vector<Group>& groups) {
    for (std::size_t i = 0; i + 1 < groups.size(); ++i) {
        if (groups[i].code == 2 && groups[i].value == "ENTITIES") break;
        if (groups[i].code != 9 || groups[i].value != "$INSUNITS") continue;
        for (const auto& [code, unit] :
             {std::pair{1.0, "in"}, std::pair{2.0, "ft"}, std::pair{4.0, "mm"},
              std::pair{5.0, "cm"}, std::pair{6.0, "m"}})
            if (read_number(groups[i + 1].value) == code) return unit;
    }
    return {};
}

class OutlineFinder {
public:
    void add(const std::vector<Entity>& entities) {
        for (std::size_t i = 0; i < entities.size(); ++i) {
            const Entity& entity = entities[i];
            std::vector<Corner> corners = entity.corners;
            if (entity.type == "POLYLINE") {
                corners.clear();
                for (; i + 1 < entities.size() && entities[i + 1].type == "VERTEX"; ++i)
                    add_vertex(entities[i + 1], corners);
            }
            if (entity.on_paper) continue;
            if (entity.bad) blame("holds a coordinate that is no number");
            if (entity.tilted && entity.type != "LINE" && !is_note(entity))
                blame("is drawn in a plane that is not seen from above: draw it flat, in x and y");
            if (entity.type == "LWPOLYLINE")
                add_polyline(corners, (entity.flags & closed_flag) != 0);
            else if (entity.type == "POLYLINE" && (entity.flags & mesh_flags) == 0)
                add_polyline(corners, (entity.flags & closed_flag) != 0);
            else if (entity.type == "LINE" && !corners.empty())
                open_.push_back({corners.front().at, entity.end});
            else if (entity.type == "CIRCLE" && !corners.empty())
                add_circle(entity);
            else if (entity.type == "ARC" && !corners.empty())
                add_arc_entity(entity);
            else if (!is_note(entity))
                blame("holds " + job::quotable(entity.type) +
                      ", which is not read here and could be a hole or an edge: draw polylines, "
                      "lines, arcs and circles, and take blocks apart");
        }
    }

    /// Closed outlines, those joined of open lines too.
    std::vector<Loop2> closed() {
        join();
        return std::move(closed_);
    }

    /// Why no outline can be trusted; "" for nothing.
    [[nodiscard]] const std::string& blamed() const { return blamed_; }

private:
    static bool is_note(const Entity& entity) {
        return std::find(notes.begin(), notes.end(), entity.type) != notes.end();
    }

    void blame(const std::string& what) {
        if (blamed_.empty()) blamed_ = what;
    }

    void add_vertex(const Entity& vertex, std::vector<Corner>& corners) {
        if (vertex.bad) blame("holds a coordinate that is no number");
        if ((vertex.flags & control_point_flag) == 0 && !vertex.corners.empty())
            corners.push_back(vertex.corners.front());
    }

    void add_polyline(const std::vector<Corner>& corners, bool is_closed) {
        if (corners.size() < 2) return;
        Loop2 points{corners.front().at};
        for (std::size_t i = 1; i < corners.size(); ++i)
            add_arc(corners[i - 1].at, corners[i].at, corners[i - 1].bulge, points);
        if (!is_closed) return open_.push_back(std::move(points));
        add_arc(corners.back().at, corners.front().at, corners.back().bulge, points);
        points.pop_back();
        closed_.push_back(std::move(points));
    }

    void add_circle(const Entity& entity) {
        const Vec2 middle = entity.corners.front().at, right(entity.radius, 0.0);
        Loop2 points{middle + right};
        add_arc(middle + right, middle - right, 1.0, points);
        add_arc(middle - right, middle + right, 1.0, points);
        points.pop_back();
        closed_.push_back(std::move(points));
    }

    void add_arc_entity(const Entity& entity) {
        constexpr double radians = std::numbers::pi / 180.0;
        const auto at = [&](double degrees) {
            return Vec2(entity.corners.front().at +
                        entity.radius *
                            Vec2(std::cos(degrees * radians), std::sin(degrees * radians)));
        };
        double turn = std::fmod(entity.to_degrees - entity.from_degrees, 360.0);
        if (turn <= 0.0) turn += 360.0;
        Loop2 points{at(entity.from_degrees)};
        const double middle = entity.from_degrees + 0.5 * turn;
        const double bulge = std::tan(0.125 * turn * radians);
        add_arc(points.front(), at(middle), bulge, points);
        add_arc(at(middle), at(entity.to_degrees), bulge, points);
        open_.push_back(std::move(points));
    }

    /// Open lines end to end, either way round.
    void join() {
        while (!open_.empty()) {
            Loop2 chain = std::move(open_.front());
            open_.erase(open_.begin());
            const double near = same_point + tolerance::dxf_digits * chain.front().norm();
            const auto meets = [near](const Vec2& a, const Vec2& b) {
                return (a - b).norm() <= near;
            };
            while (!meets(chain.front(), chain.back()) || chain.size() < 3) {
                const auto next = std::find_if(open_.begin(), open_.end(), [&](const Loop2& line) {
                    return meets(line.front(), chain.back()) || meets(line.back(), chain.back());
                });
                if (next == open_.end()) break;
                if (!meets(next->front(), chain.back())) std::reverse(next->begin(), next->end());
                chain.insert(chain.end(), next->begin() + 1, next->end());
                open_.erase(next);
            }
            if (chain.size() < 4 || !meets(chain.front(), chain.back())) {
                blame_open(chain);
                continue;
            }
            chain.pop_back();
            closed_.push_back(std::move(chain));
        }
    }

    /// The edge of a hole, or a note? Nobody knows.
    void blame_open(const Loop2& chain) {
        const auto at = [](const Vec2& p) { return fixed(p.x(), 2) + ", " + fixed(p.y(), 2); };
        blame("holds lines that close no outline, from " + at(chain.front()) + " to " +
              at(chain.back()) +
              ": join their ends, or take them out; a hole or a stain is told by keep_off");
    }

    std::vector<Loop2> closed_, open_;
    std::string blamed_;
};

/// Points without those that repeat the one before.
Loop2 tidy(const Loop2& loop) {
    Loop2 out;
    for (const Vec2& p : loop)
        if (out.empty() || (p - out.back()).norm() > 0.0) out.push_back(p);
    while (out.size() > 1 && !((out.front() - out.back()).norm() > 0.0)) out.pop_back();
    return out;
}

}  // namespace

Result<DxfOutline> parse_dxf_outline(std::string_view text, const std::string& name) {
    if (text.starts_with("AutoCAD Binary DXF"))
        return bad_file(name, "is a binary DXF file; save it as text (ASCII), R12 is best");
    const auto groups = groups_of(text);
    if (!groups) return bad_file(name, "is no DXF file: codes and values in turn, a line each");
    // What was lost could be a hole, or a corner cut off.
    if (!groups->empty() && !is_end(groups->back()))
        return bad_file(name, "is cut short: a DXF file ends with EOF; save or copy it again");
    OutlineFinder finder;
    finder.add(entities_of(*groups));
    const std::vector<Loop2> closed = finder.closed();
    if (!finder.blamed().empty()) return bad_file(name, finder.blamed());
    if (closed.empty())
        return bad_file(name,
                        "holds no closed outline: draw one closed polyline, or lines end to end");
    if (closed.size() > 1)
        return bad_file(name, "holds " + std::to_string(closed.size()) +
                                  " closed outlines; a file has one remnant's alone, and a hole in "
                                  "it is told by keep_off");
    Loop2 outline = tidy(closed.front());
    if (outline.size() < 3) return bad_file(name, "its outline has fewer than three points");
    if (signed_area(outline) < 0.0) std::reverse(outline.begin(), outline.end());
    return DxfOutline{std::move(outline), std::string(unit_of(*groups))};
}

Result<DxfOutline> read_dxf_outline(const std::filesystem::path& file) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error))
        return bad_file(file.string(), "cannot be opened; name an existing DXF file");
    if (std::filesystem::file_size(file, error) > most_bytes || error)
        return bad_file(file.string(), "holds more than 16 MB: no file of one outline");
    std::ifstream in(file, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    if (!in && !in.eof()) return bad_file(file.string(), "cannot be read");
    return parse_dxf_outline(text, file.string());
}

}  // namespace tearline::layout
