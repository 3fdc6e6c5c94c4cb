# CPack's Debian packages: names, what they need, what apt says of them.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME tearline)
set(CPACK_PACKAGE_CONTACT "Tearline project <tearline@tearline.invalid>")
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_DEBIAN_PACKAGE_RELEASE "1~deb${debian_release}")
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_STRIP_FILES ON)
set(CPACK_POST_BUILD_SCRIPTS ${CMAKE_CURRENT_SOURCE_DIR}/same_bytes.cmake)
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "")  # each has its own
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_COMPONENTS_ALL tearline freecad dev)
if(TEARLINE_PRINT)
    list(APPEND CPACK_COMPONENTS_ALL print)
endif()
set(version "${PROJECT_VERSION}-${CPACK_DEBIAN_PACKAGE_RELEASE}")

set(CPACK_DEBIAN_TEARLINE_PACKAGE_NAME tearline)
set(CPACK_COMPONENT_TEARLINE_DESCRIPTION
"plies, templates and resin for the repair of glass-fibre hulls
From a surface model of a hull, or figures taken with a tape, and a damage to
the plies of the patch: each laid flat as a full-size template with its tear
margin and marks, the glass, resin and hardener, the cups and stages, and
files for a cutter.")
# Loaded while it runs, so no tool sees it.
get_filename_component(cholmod_file ${CHOLMOD_LIBRARY} REALPATH)
string(REGEX REPLACE ".*\\.so\\.([0-9]+).*" "\\1" cholmod_abi ${cholmod_file})
set(CPACK_DEBIAN_TEARLINE_PACKAGE_DEPENDS "libcholmod${cholmod_abi}")
set(CPACK_DEBIAN_TEARLINE_PACKAGE_RECOMMENDS "libopenblas0-pthread, tearline-print")
set(CPACK_DEBIAN_TEARLINE_PACKAGE_SUGGESTS "freecad-tearline")

set(CPACK_DEBIAN_PRINT_PACKAGE_NAME tearline-print)
set(CPACK_COMPONENT_PRINT_DESCRIPTION
"preview and full-size printing of Tearline's templates
Shows the templates of a planned hull repair page by page, and prints them at
full size: tiled on A4 or Letter, on large sheets or on a roll. Opens a job
file by a double click. Also what writes PDF files for tearline itself.")
set(CPACK_DEBIAN_PRINT_PACKAGE_DEPENDS "tearline (= ${version}), fonts-liberation | fonts-urw-base35")

set(CPACK_DEBIAN_FREECAD_PACKAGE_NAME freecad-tearline)
set(CPACK_COMPONENT_FREECAD_DESCRIPTION
"hull repairs of Tearline inside FreeCAD
A workbench in which a damage is clicked on the model of a hull; outline,
plies, templates and quantities of the patch follow it.")
set(CPACK_DEBIAN_FREECAD_PACKAGE_ARCHITECTURE all)
set(CPACK_DEBIAN_FREECAD_PACKAGE_SHLIBDEPS OFF)
set(CPACK_DEBIAN_FREECAD_PACKAGE_DEPENDS "freecad (>= 0.20), tearline (= ${version})")
set(CPACK_DEBIAN_FREECAD_PACKAGE_CONTROL_EXTRA ${CMAKE_CURRENT_SOURCE_DIR}/prerm)

set(CPACK_DEBIAN_DEV_PACKAGE_NAME libtearline-dev)
set(CPACK_DEBIAN_DEV_PACKAGE_SECTION libdevel)
set(CPACK_COMPONENT_DEV_DESCRIPTION
"Tearline's planning of hull repairs as a C++ library
A static library, its headers and a package file for CMake:
find_package(tearline) gives tearline::tearline, with the whole way from a
job file to plies, templates and quantities in one call.")
set(CPACK_DEBIAN_DEV_PACKAGE_SHLIBDEPS OFF)
set(CPACK_DEBIAN_DEV_PACKAGE_DEPENDS "libeigen3-dev, libexpected-dev, libocct-data-exchange-dev, \
libocct-modeling-algorithms-dev, libtbb-dev, libfontconfig-dev, libgl-dev, libx11-dev, \
libpolyclipping-dev, libgmp-dev, libssl-dev, libcholmod${cholmod_abi}")

include(CPack)
