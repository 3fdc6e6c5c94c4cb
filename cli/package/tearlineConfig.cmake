# find_package(tearline) gives tearline::tearline; its headers are <tearline/plan_repair.h>,
# <tearline/job.h>, <tearline/read_job.h>, <tearline/plan.h>, <tearline/result.h>,
# <tearline/plan_json.h>, <tearline/write_plan.h>.
include(CMakeFindDependencyMacro)
find_dependency(Eigen3)
find_dependency(OpenCASCADE)
find_dependency(OpenSSL COMPONENTS Crypto)
include(${CMAKE_CURRENT_LIST_DIR}/tearlineTargets.cmake)
