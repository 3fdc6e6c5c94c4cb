#pragma once
#include <string>
#include <vector>

#include "core/hull/hull.h"
#include "core/job/job.h"
#include "core/patch/not_flat_words.h"
#include "core/surface/patch.h"

namespace tearline::patch {

/// Which part of the hull a repair needs.
struct PatchRequest {
    std::vector<Vec3> seeds;  ///< [mm] the outline's points, or the centre; near the hull
    std::string seed_key = "damage.outline";  ///< where the seeds stand in the job file
    std::vector<Vec3> end;       ///< [mm] along the hull's own end, where it is told; else empty
    double damage_radius = 0.0;  ///< [mm] with a centre: how far the damage reaches from it
    double reach = 0.0;          ///< [mm] how far beyond the outline the patch must go, by geodesic
    job::Side model_surface = job::Side::outside;  ///< which face of the skin the model is
    job::Side laid_from = job::Side::outside;      ///< the side the glass is laid from
    double skin = 0.0;     ///< [mm] moves the model to the other face when the two differ
    double below = 0.0;    ///< [mm] and from there on, into the skin
    bool exact = false;    ///< a mesh is no scan, however rough it looks
    std::string if_scan =  ///< what to do where it looks like one
        "add [hull.scan] with kind = \"light\", \"photo\" or \"depth\", so that the hull is found "
        "through its noise, or say exact = true in [hull] if the mesh is no scan";
    NotFlatWords not_flat;         ///< of a refusal
    bool narrow_bends = false;     ///< may lie in it, so that its first triangles are finer
    bool round = false;            ///< a tube that closes on itself is rolled out, a foot with it
    std::size_t triangles = 6000;  ///< about how many triangles the patch may have
};

/// The request of a job whose outermost edge, tear margin included, lies `reach` outside the
/// damage.
[[nodiscard]] PatchRequest patch_request(const job::Job& job, double reach);

/// Meshes the neighbourhood of the damage finely and lays it out in a chart.
///
/// The result faces the laying side: triangles counter-clockwise and normals seen from there.
/// @error bad_input       a seed farther than tolerance::outline_reach from the hull, or a
///                        scan rougher than a surface can be told from
/// @error no_safe_answer  the neighbourhood winds round a tube, closes on itself or curves too much
[[nodiscard]] Result<surface::Patch> build_patch(const hull::Hull& hull,
                                                 const PatchRequest& request);

}  // namespace tearline::patch
