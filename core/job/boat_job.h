#pragma once
#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/base/outline.h"
#include "core/base/result.h"
#include "core/job/change.h"
#include "core/job/job.h"

/// A job file of several repairs of one boat: [[repair]] tables, each with what belongs to its
/// place, over what stands at the top.
namespace tearline::job {

/// A piece that has its place on a remnant.
struct LockedPiece {
    std::string piece;  ///< "R2-1A": the repair's name and the piece's
    Vec2 at{0, 0};      ///< [mm] of its datum, in the remnant's own coordinates
    double turn = 0.0;  ///< [deg] counter-clockwise
};

/// A leftover of a roll, used before the roll.
struct Remnant {
    std::string name;             ///< "remnant 1" unless given
    std::string fabric;           ///< one of the job's
    Loop2 outline;                ///< [mm] as given, or by `model`
    std::filesystem::path model;  ///< a DXF file, as resolved; empty: the outline is given
    std::string model_as_given;
    std::optional<double> unit_mm;  ///< [mm] of the DXF file's unit, where it is written
    std::optional<double>
        roll_direction;           ///< [deg] of the roll's length, from x; required of cloth
    std::optional<bool> face_up;  ///< as it was outlined; required of cloth
    std::vector<std::array<double, 4>> keep_off;  ///< [mm] x, y to x, y: boxes that nothing lies in
    std::vector<LockedPiece> locked;
    int line = 0;
};

/// One place of a boat.
struct Repair {
    std::string name;
    Job job;
};

/// Several repairs of one boat: each a job of its own, that shares hull, resin, fabrics, shop.
struct BoatJob {
    std::filesystem::path file;
    std::string title;
    bool allow_overlap = false;     ///< covers and torn bands of two repairs may lie on one another
    std::vector<Repair> repairs;    ///< one or more, in the order of the file
    std::vector<Remnant> remnants;  ///< outlines of DXF files not read yet
};

/// Whether the text of a job file speaks of a boat: it has a [[repair]] table, or what goes with
/// one.
[[nodiscard]] bool is_boat(std::string_view text);

/// Reads and checks a job file of several repairs.
///
/// @error bad_input  as parse_job(), with the repair that the key is of
[[nodiscard]] Result<BoatJob> parse_boat(std::string_view text, const std::filesystem::path& file);

/// What a job file holds: one place or several.
using AnyJob = std::variant<Job, BoatJob>;

/// Reads and checks a job file of either kind.
///
/// @error bad_input  as parse_job() or parse_boat()
[[nodiscard]] Result<AnyJob> parse_any_job(std::string_view text,
                                           const std::filesystem::path& file);

}  // namespace tearline::job
