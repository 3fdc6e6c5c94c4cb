#pragma once
#include <stdexcept>

#include "core/hull/read_hull.h"
#include "core/job/fabric_catalogue.h"
#include "tests/support/mesh_files.h"

/// A flat plate of 2 x 2 m that faces up, read once, and a disc in its middle.
namespace tearline::plan {

inline const hull::Hull& plate() {
    static const hull::Hull read = [] {
        const test::Folder folder;
        job::HullOptions options;
        options.model =
            folder.write("plate.stl", test::stl_binary(test::grid(40, 40, [](double u, double v) {
                             return Vec3(2000.0 * u - 1000.0, 2000.0 * v - 1000.0, 0.0);
                         })));
        options.unit = "mm";
        options.outward = "as modelled";
        auto hull = hull::read_hull(options, job::Side::outside);
        if (!hull) throw std::runtime_error(hull.error().message());
        return *hull;
    }();
    return read;
}

inline job::Job plate_job() {
    job::Job job;
    job.hull.bow = Vec3(1, 0, 0);
    job.hull.up = Vec3(0, 1, 0);
    job.damage.centre = Vec3(0, 0, 0);
    job.damage.radius = 80.0;
    job.damage.depth = 4.0;
    job.fabrics = job::built_in_fabrics();
    job.layup.fill = {{"mat 450", 0, 0}};
    return job;
}

}  // namespace tearline::plan
