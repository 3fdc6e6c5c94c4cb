#pragma once
#include "core/job/fabric_catalogue.h"
#include "tests/support/mesh_hulls.h"

/// A flat plate of 2 x 2 m that faces up, and jobs of discs on it: what lies on it is known by
/// hand.
namespace tearline::test {

/// The plate z = 0 from -1000 to 1000 mm, read once; its end is the hull's own.
inline const hull::Hull& flat_plate() {
    static const hull::Hull read = read_mesh(grid(20, 20, [](double u, double v) {
        return Vec3(2000.0 * u - 1000.0, 2000.0 * v - 1000.0, 0.0);
    }));
    return read;
}

/// A disc of damage 4 mm deep, filled with mats of 450 g/m2.
inline job::Job disc_on_plate(double radius, const Vec3& centre = Vec3(0, 0, 0)) {
    job::Job job;
    job.hull.bow = Vec3(1, 0, 0);
    job.hull.up = Vec3(0, 1, 0);
    job.hull.mirror = false;
    job.damage.centre = centre;
    job.damage.radius = radius;
    job.damage.depth = 4.0;
    job.fabrics = job::built_in_fabrics();
    job.layup.fill = {{"mat 450", 0, 0}};
    return job;
}

}  // namespace tearline::test
