// Builds the sample models of the Saltmarsh Yard and writes each as STEP and as binary STL, and a
// scan of one, and a season of jobs on them.
//
//     make_sample_models FOLDER
//
// README.md beside this file says what each model is and what it proves.
#include <cstdio>
#include <exception>
#include <filesystem>
#include <string>

#include "sample-models/shapes.h"
#include "sample-models/write_fleet.h"
#include "sample-models/write_model.h"
#include "sample-models/write_scan.h"

int main(int argc, char** argv) {
    if (argc != 2) {
        std::fprintf(stderr, "usage: make_sample_models FOLDER\n");
        return 2;
    }
    const std::filesystem::path folder = argv[1];
    using namespace tearline::samples;
    try {
        write_model(curlew(), folder / "curlew");
        write_model(curlew_half(), folder / "curlew-half");
        write_model(sandpiper(), folder / "sandpiper");
        write_model(wigley(), folder / "wigley");
        write_model(cylinder(), folder / "cylinder");
        write_model(cone(), folder / "cone");
        write_model(frustum(), folder / "frustum");
        write_model(sphere(), folder / "sphere");
        write_model(panel(), folder / "panel");
        write_scan_of_curlew(folder);
        write_fleet(folder);
    } catch (const std::exception& problem) {
        std::fprintf(stderr, "make_sample_models: %s\n", problem.what());
        return 1;
    }
    return 0;
}
