#pragma once
#include <filesystem>

namespace tearline::samples {

/// Writes the curlew's port topside with a dent as photographs would show it, in metres and one
/// part in a hundred too small: curlew-photo.ply (a mesh) and curlew-photo.xyz (points, with a leg
/// of the trestle in front). The same bytes every time.
void write_scan_of_curlew(const std::filesystem::path& folder);

}  // namespace tearline::samples
