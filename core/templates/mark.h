#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/base/outline.h"

/// What is drawn on a template that is no edge of it; all places in mm.
namespace tearline::templates {

/// Two crossing strokes.
struct Datum {
    Vec2 middle{0, 0};
    double arm = 0.0;  ///< half of a stroke
    std::string text = "MIDDLE OF DAMAGE";  ///< what it is the middle of
};

/// Which way on the hull; starboard only on a transom.
struct Arrow {
    enum class To { bow, up, starboard };
    To to = To::bow;
    Vec2 tail{0, 0}, tip{0, 0};
    std::string text;  ///< of two that are one arrow the first is named for both
};

/// Roll direction of cloth, a head at both ends; mat has none.
struct Fibre {
    Vec2 from{0, 0}, to{0, 0};
    static constexpr std::string_view words = "ROLL DIRECTION";
};

/// Match tick across the net line.
struct Tick {
    Vec2 inner{0, 0}, outer{0, 0};
    std::string towards;  ///< what it points to on the hull: "bow", "down"
};

/// Where the tape to a mark on the hull runs over the edge.
struct Tape {
    Vec2 inner{0, 0}, outer{0, 0};
    std::string text;  ///< the mark's name and how far it is from there
};

/// A line of the small drawing beside the words of how the torn band thins out.
struct BandSection {
    std::vector<Vec2> line;
    std::string text;  ///< what the whole shows, with its first line
};

/// Ring round the place where cloth is pressed down first.
struct PressFirst {
    Vec2 middle{0, 0};
    double radius = 0.0;
    static constexpr std::string_view words = "PRESS DOWN HERE FIRST";

    [[nodiscard]] Loop2 ring() const;
};

/// Edge of the next smaller ply, or what of it lies on the piece.
struct NextEdge {
    std::vector<Vec2> line;
    bool closed = false;
    static constexpr std::string_view words = "EDGE OF THE SMALLER PLY";
};

/// Run of the net line that lies on the hull's own end.
struct HullEnd {
    std::vector<Vec2> run;
    static constexpr std::string_view words = "HULL ENDS HERE";
};

/// Line along which cloth goes over the hull's end.
struct Fold {
    std::vector<Vec2> line;
    std::string text;
};

/// Run of the net line along which the two ends of a ply that goes right round meet.
struct Joint {
    std::vector<Vec2> run;
    static constexpr std::string_view words = "JOINT: ENDS MEET HERE";
};

/// A kerf of a core plug: along it, part way through, from the face towards you.
struct Kerf {
    Vec2 from{0, 0}, to{0, 0};
    static constexpr std::string_view words = "KERF";
};

/// A line of text.
struct Label {
    Vec2 base{0, 0};  ///< middle of the base line
    Vec2 up{0, 0};    ///< from there to the top of a capital letter
    std::string text;
    bool warning = false;
};

using Mark = std::variant<Datum, Arrow, Fibre, Tick, Tape, BandSection, PressFirst, NextEdge,
                          HullEnd, Fold, Joint, Kerf, Label>;

/// Where the datum lies; nothing where the middle of the damage is not on the piece.
[[nodiscard]] std::optional<Vec2> datum_of(const std::vector<Mark>& marks);

/// A mark as plan.json tells of it.
struct MarkFields {
    /// "datum" (two strokes, 4 points); "bow", "up", "starboard" (tail, tip); "fibre"; "tick" and
    /// "tape" (inner end first); "band_section" (open); "press_first" (closed); "next_edge"
    /// (closed), "next_edge_part", "hull_end", "fold", "joint" and "kerf" (open); "label" and
    /// "warning" (the middle of the base line and the top of a capital letter above it)
    std::string kind;
    std::vector<Vec2> points;
    std::string text;
};

[[nodiscard]] MarkFields fields_of(const Mark& mark);

/// The mark that has these fields; nothing for a kind that is not known here, or whose points are
/// too few for it.
[[nodiscard]] std::optional<Mark> mark_of(const MarkFields& fields);

}  // namespace tearline::templates
