#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "core/job/job.h"

namespace tearline {

/// A face or a piece of a model to be laid flat, without damage and without a laminate.
struct FlatJob {
    std::filesystem::path model;
    std::optional<std::string> unit;  ///< of a mesh
    bool exact = false;               ///< a mesh that looks like a scan is exact all the same
    std::optional<int> face;          ///< of a CAD model, from 1; or
    std::vector<Vec3> outline;        ///< [mm] points round a piece; neither: all of the model
    job::Join join = job::Join::straight;
    /// A name of the catalogue; "mat": any sheet that gives like it, of any width.
    std::string cloth = "mat";
    double axis = 0.0;                    ///< [deg] of cloth, from the bow direction
    double axis_free = 0.0;               ///< [deg] that it may turn to either side
    std::optional<double> strain_limit;   ///< [-] of mat; else the catalogue's
    double margin = 0.0;                  ///< [mm] >= 0 beyond the net line
    std::string outward = "auto";         ///< "auto" | "as modelled" | "reversed", as hull.outward
    job::Side side = job::Side::outside;  ///< the face that is towards whoever lays it
    Vec3 bow{1, 0, 0}, up{0, 0, 1};       ///< unit, not parallel
    job::Units units = job::Units::metric;
    std::string title;
};

}  // namespace tearline
