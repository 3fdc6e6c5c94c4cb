#pragma once
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/hull/topology.h"

namespace tearline::hull {

/// A connected part of a model, consistently turned.
struct Part {
    double area = 0.0;    ///< [mm2]
    double volume = 0.0;  ///< [mm3] signed, of the closed part or of its cone
    std::vector<std::vector<std::int32_t>> loops;  ///< its openings
    [[nodiscard]] bool closed() const { return loops.empty(); }
};

/// Area, openings and signed volume of every component.
///
/// An open part is closed by a cone over its openings to the centroid of the boundary.
[[nodiscard]] std::vector<Part> measure_parts(const std::vector<Vec3>& vertices,
                                              const Triangles& triangles, const Topology& topology);

/// Whether the part's volume says which way is out: closed, or open with |V| >= 0.005 A^1.5.
[[nodiscard]] bool knows_outside(const Part& part);

}  // namespace tearline::hull
