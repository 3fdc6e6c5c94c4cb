# After CPack, whose archives tell when they were packed: packed anew with the source's own time.
if(DEFINED ENV{SOURCE_DATE_EPOCH})
    foreach(package ${CPACK_PACKAGE_FILES})
        file(REMOVE_RECURSE ${package}.d)
        execute_process(COMMAND dpkg-deb --raw-extract ${package} ${package}.d
                        COMMAND_ERROR_IS_FATAL ANY)
        # Built files are younger than the source, copied ones as old as their checkout.
        execute_process(COMMAND find ${package}.d -exec touch -h -d "@$ENV{SOURCE_DATE_EPOCH}" {} +
                        COMMAND_ERROR_IS_FATAL ANY)
        execute_process(COMMAND dpkg-deb --root-owner-group --threads-max=1 --build ${package}.d
                                ${package} OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
        file(REMOVE_RECURSE ${package}.d)
    endforeach()
endif()
