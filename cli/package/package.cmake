# What is installed beside the program, and the packages made of it:
#   cpack -G DEB   a Debian package
#   cpack -G TGZ   an archive with a program that needs no shared library (the target loadline_static)

# The manual page and the completions, from the commands' own descriptions.
set(made ${CMAKE_CURRENT_BINARY_DIR}/manual)
file(MAKE_DIRECTORY ${made})
add_executable(loadline_manual cli/manual/manual.cpp)
target_link_libraries(loadline_manual PRIVATE loadline_commands fmt::fmt loadline_options loadline_lightly)
add_custom_command(
    OUTPUT ${made}/loadline.1.gz ${made}/loadline.bash ${made}/loadline.zsh ${made}/loadline.fish
    COMMAND loadline_manual ${made}
    COMMAND gzip -9nfk ${made}/loadline.1
    DEPENDS loadline_manual
    COMMENT "Writing the manual page and the completions"
    VERBATIM)
if(NOT LOADLINE_SANITIZE)
    set(always ALL)
endif()
add_custom_target(loadline_manual_page ${always} DEPENDS ${made}/loadline.1.gz ${made}/loadline.bash)

# Debian's papers: what changed stands in README, and whose the parts are.
set(changelog "loadline (${PROJECT_VERSION}) unstable; urgency=medium

  * README.md says what changed for users.

 -- The authors of loadline <authors@loadline.invalid>  ${commit_date}
")
file(CONFIGURE OUTPUT ${made}/changelog CONTENT "${changelog}" @ONLY)
execute_process(COMMAND gzip -9nfk ${made}/changelog)
file(READ cli/package/copyright papers)
foreach(part libfmt-dev libtomlplusplus-dev libexpat1-dev libcli11-dev nlohmann-json3-dev libeigen3-dev libjs-chart.js)
    if(EXISTS /usr/share/doc/${part}/copyright)
        file(READ /usr/share/doc/${part}/copyright terms)
        string(APPEND papers "\n\n==== ${part} ====\n\n${terms}")
    endif()
endforeach()
file(GENERATE OUTPUT ${made}/copyright CONTENT "${papers}")

install(TARGETS loadline_program RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT program)
install(DIRECTORY airfoils DESTINATION ${CMAKE_INSTALL_DATADIR}/loadline COMPONENT data)
install(DIRECTORY cli/schema DESTINATION ${CMAKE_INSTALL_DATADIR}/loadline COMPONENT data)
install(FILES ${made}/loadline.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT data)
install(FILES ${made}/loadline.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME loadline
        COMPONENT data)
install(FILES ${made}/loadline.zsh DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions RENAME _loadline
        COMPONENT data)
install(FILES ${made}/loadline.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d COMPONENT data)
install(FILES README.md ${made}/copyright ${made}/changelog.gz DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT data)
install(DIRECTORY cases/ DESTINATION ${CMAKE_INSTALL_DOCDIR}/examples COMPONENT data)

# The same objects, linked once more with everything inside.
add_executable(loadline_static EXCLUDE_FROM_ALL cli/main.cpp cli/package/static_parts.cpp)
if(LOADLINE_STEP)  # Debian has Open CASCADE as shared libraries alone: this program writes no STEP
    target_sources(loadline_static PRIVATE lib/loadline/making/step/step_none.cpp)
endif()
if(LOADLINE_TESTS AND NOT LOADLINE_SANITIZE AND NOT BUILD_SHARED_LIBS)
    set_target_properties(loadline_static PROPERTIES EXCLUDE_FROM_ALL OFF)  # they try the packages
endif()
set_target_properties(loadline_static PROPERTIES OUTPUT_NAME loadline UNITY_BUILD OFF
                      RUNTIME_OUTPUT_DIRECTORY ${CMAKE_CURRENT_BINARY_DIR}/static)
target_include_directories(loadline_static PRIVATE ${CMAKE_CURRENT_SOURCE_DIR} ${LOADLINE_INCLUDE_DIR})
target_compile_definitions(loadline_static PRIVATE TOML_HEADER_ONLY=0)
target_compile_options(loadline_static PRIVATE -Og)
target_link_options(loadline_static PRIVATE -static)
target_link_libraries(loadline_static PRIVATE $<TARGET_FILE:loadline_commands> $<TARGET_FILE:loadline> expat)
add_dependencies(loadline_static loadline_commands loadline)
install(PROGRAMS ${CMAKE_CURRENT_BINARY_DIR}/static/loadline DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT static
        EXCLUDE_FROM_ALL)

set(CPACK_PACKAGE_NAME loadline)
set(CPACK_PACKAGE_VENDOR "The authors of loadline")
set(CPACK_PACKAGE_CONTACT "The authors of loadline <authors@loadline.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "engine speed, thrust and climb of light propellers")
set(CPACK_PACKAGE_DESCRIPTION
"Loadline finds the speed on which a small two-stroke engine and a
propeller agree, from measured blades, the reduction and the engine's
torque, and what follows for thrust, climb, cruise, heat and noise.
Its figures are a model's, not a release to fly.")
set(CPACK_PACKAGE_FILE_NAME loadline-${PROJECT_VERSION}-${CMAKE_SYSTEM_NAME}-${CMAKE_SYSTEM_PROCESSOR})
set(CPACK_VERBATIM_VARIABLES ON)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_GROUPING ALL_COMPONENTS_IN_ONE)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_ARCHIVE_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_GENERATOR DEB TGZ)
set(CPACK_PROJECT_CONFIG_FILE ${CMAKE_CURRENT_SOURCE_DIR}/cli/package/parts.cmake)
include(CPack)
