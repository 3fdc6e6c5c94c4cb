#pragma once
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>

#include "core/job/read_job.h"
#include "core/plan/plan_repair.h"

/// Whole plans of job files, real or written in a test.
namespace tearline::test {

inline std::string samples() {
    return TEARLINE_SAMPLES;
}

/// The job text as if it stood among the sample models; throws the reader's message.
inline job::Job job_of(const std::string& text, const std::string& folder = samples()) {
    auto job = job::parse_job(text, folder + "/test.toml");
    if (!job) throw std::runtime_error(job.error().message());
    return std::move(*job);
}

inline Plan planned(const job::Job& job) {
    auto plan = plan_repair(job);
    if (!plan) throw std::runtime_error(plan.error().message());
    return std::move(*plan);
}

inline Plan planned(const std::string& text, const std::string& folder = samples()) {
    return planned(job_of(text, folder));
}

/// The text of a sample model's job file, for example "curlew".
inline std::string sample_text(const std::string& name) {
    std::ifstream file(samples() + "/" + name + ".toml");
    if (!file) throw std::runtime_error("no job file " + name);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// The text with `from`, which must be there, put `to`.
inline std::string with(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    if (at == std::string::npos) throw std::runtime_error("the job has no '" + from + "'");
    return text.replace(at, from.size(), to);
}

/// The same job on the model's triangles instead of its faces.
inline std::string on_triangles(const std::string& text, const std::string& name) {
    return with(text, "model = \"" + name + ".step\"",
                "model = \"" + name + ".stl\"\nunit = \"mm\"");
}

/// Radius of a disc's edge, ply by ply, is that of the damage and the ply's offset.
inline double disc_radius(const Plan& plan, const templates::LaidPly& ply) {
    return *plan.job.damage.radius + ply.edge_offset_mm;
}

/// A template of a bottom, whose paper has the bow at its top (DEFINITIONS.md, Flat frame), turned
/// so that the bow is to the right: then its first coordinate runs along the hull.
inline Loop2 bow_to_the_right(Loop2 loop) {
    for (Vec2& p : loop) p = Vec2(p.y(), -p.x());
    return loop;
}

/// Every point of a closed loop and the middles of its edges: no error hides between points.
template <class Point>
std::vector<Point> with_middles(const std::vector<Point>& loop) {
    std::vector<Point> points;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        points.push_back(loop[i]);
        points.push_back(0.5 * (loop[i] + loop[(i + 1) % loop.size()]));
    }
    return points;
}

}  // namespace tearline::test
