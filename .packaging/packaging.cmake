# SPDX-License-Identifier: GPL-3.0-or-later
# The library as others use it, the manual pages, what is installed and the Debian packages.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

# What libfunicle links: for the pkg-config file (static linking) and for the package of its headers.
set(FUNICLE_REQUIRES "gsl libxml-2.0")
set(FUNICLE_LIBS "-lglpk -lklu -lldl -lamd -lsuitesparseconfig -lm -pthread")
set(FUNICLE_DEV_DEPENDS "libgsl-dev, libxml2-dev, libglpk-dev, libsuitesparse-dev")

# Every header another program may include, with all that these include. What they declare is what the
# shared library exports: tests/library.py holds solver/funicle.map against them.
set(FUNICLE_HEADERS
	solver/funicle.h
	io/base/buffer.h io/base/pool.h io/base/words.h
	io/xml/findings.h io/xml/inputs.h io/xml/quantity.h io/xml/reader.h
	io/report/answer.h io/report/csv.h io/report/json.h io/report/stream.h io/report/tell.h io/report/text.h)

# ---- the shared library ---------------------------------------------------------------------------

get_target_property(funicle_links funicle LINK_LIBRARIES)
add_library(funicle_shared SHARED $<TARGET_OBJECTS:funicle_solver> $<TARGET_OBJECTS:funicle_io>)
target_link_libraries(funicle_shared PRIVATE ${funicle_links})
set(export_map ${PROJECT_SOURCE_DIR}/solver/funicle.map)
target_link_options(funicle_shared PRIVATE -Wl,--version-script=${export_map}
	$<$<NOT:$<OR:$<BOOL:${RN_SANITIZE}>,$<BOOL:${RN_FUZZ}>>>:-Wl,-z,defs>)
set_target_properties(funicle_shared PROPERTIES OUTPUT_NAME funicle EXPORT_NAME funicle
	VERSION ${PROJECT_VERSION} SOVERSION 0 LINK_DEPENDS ${export_map})
target_include_directories(funicle_shared INTERFACE
	$<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}/funicle>)

set_target_properties(funicle_program PROPERTIES POSITION_INDEPENDENT_CODE ON)

# ---- manual pages and completion, made from the tables of the program ---------------------------------

# the day of the newest entry of the changelog: pages are the same whenever they are made
file(STRINGS .packaging/changelog changelog_days REGEX "^ -- ")
list(GET changelog_days 0 changelog_day)
string(REGEX MATCH ", ([0-9]+) ([A-Z][a-z]+) ([0-9]+) " changelog_day "${changelog_day}")
set(months "Jan;Feb;Mar;Apr;May;Jun;Jul;Aug;Sep;Oct;Nov;Dec")
list(FIND months "${CMAKE_MATCH_2}" month)
math(EXPR month "${month} + 101") # with its nought
string(SUBSTRING ${month} 1 2 month)
set(release_day ${CMAKE_MATCH_3}-${month}-${CMAKE_MATCH_1})

add_executable(funicle_pages io/cli/write_pages.c io/cli/pages.c io/cli/roff.c io/cli/options.c)
target_link_libraries(funicle_pages PRIVATE funicle)
set(pages)
foreach(page "program funicle.1" "format funicle.5" "completion funicle.bash")
	string(REPLACE " " ";" page "${page}")
	list(GET page 0 kind)
	list(GET page 1 file)
	add_custom_command(OUTPUT ${PROJECT_BINARY_DIR}/${file}
		COMMAND funicle_pages ${kind} "${release_day}" > ${PROJECT_BINARY_DIR}/${file}
		DEPENDS funicle_pages VERBATIM)
	list(APPEND pages ${PROJECT_BINARY_DIR}/${file})
endforeach()
add_custom_target(funicle_pages_made ALL DEPENDS ${pages})

# ---- what is installed --------------------------------------------------------------------------------

file(RELATIVE_PATH FUNICLE_UP /at/${CMAKE_INSTALL_LIBDIR}/pkgconfig /at)
string(REGEX REPLACE "/$" "" FUNICLE_UP "${FUNICLE_UP}")
configure_file(.packaging/funicle.pc.in funicle.pc @ONLY)
set(cmake_folder ${CMAKE_INSTALL_LIBDIR}/cmake/funicle)
configure_package_config_file(.packaging/funicle-config.cmake.in ${PROJECT_BINARY_DIR}/funicle-config.cmake
	INSTALL_DESTINATION ${cmake_folder})
write_basic_package_version_file(${PROJECT_BINARY_DIR}/funicle-config-version.cmake COMPATIBILITY SameMinorVersion)

install(TARGETS funicle_program RUNTIME COMPONENT program)
install(FILES ${PROJECT_BINARY_DIR}/funicle.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program)
install(FILES ${PROJECT_BINARY_DIR}/funicle.5 DESTINATION ${CMAKE_INSTALL_MANDIR}/man5 COMPONENT program)
install(FILES ${PROJECT_BINARY_DIR}/funicle.bash RENAME funicle COMPONENT program
	DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
install(DIRECTORY models/ DESTINATION ${CMAKE_INSTALL_DATADIR}/funicle/models COMPONENT program
	FILES_MATCHING PATTERN *.xml)
install(DIRECTORY doc/ DESTINATION ${CMAKE_INSTALL_DATADIR}/funicle/schema COMPONENT program
	FILES_MATCHING PATTERN *.schema.json)
install(FILES io/xml/rigging.rng DESTINATION ${CMAKE_INSTALL_DATADIR}/funicle/schema COMPONENT program)
install(FILES README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(DIRECTORY doc DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program
	FILES_MATCHING PATTERN *.md PATTERN *.svg)

install(TARGETS funicle_shared EXPORT funicle LIBRARY COMPONENT library NAMELINK_COMPONENT headers)
install(TARGETS funicle ARCHIVE COMPONENT headers)
foreach(header ${FUNICLE_HEADERS})
	cmake_path(GET header PARENT_PATH folder)
	install(FILES ${header} DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/funicle/${folder} COMPONENT headers)
endforeach()
install(FILES ${PROJECT_BINARY_DIR}/funicle.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig COMPONENT headers)
install(FILES ${PROJECT_BINARY_DIR}/funicle-config.cmake ${PROJECT_BINARY_DIR}/funicle-config-version.cmake
	DESTINATION ${cmake_folder} COMPONENT headers)
install(EXPORT funicle FILE funicle-targets.cmake NAMESPACE funicle:: DESTINATION ${cmake_folder} COMPONENT headers)

# ---- Debian packages: cpack in a build folder whose prefix is /usr ------------------------------------

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_CONTACT "funicle maintainers <maintainers@funicle.example.org>")
set(CPACK_PACKAGE_VENDOR funicle)
set(CPACK_COMPONENTS_ALL program library headers)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS ON)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_NAME} built using CMake") # so none is put before those below
set(CPACK_PRE_BUILD_SCRIPTS ${PROJECT_SOURCE_DIR}/.packaging/finish.cmake)
set(CPACK_RN_PACKAGING ${PROJECT_SOURCE_DIR}/.packaging) # for that script, as are the names

set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME funicle)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS fonts-dejavu-core)
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION "forces in anchor and redirect networks of ropes
Reads a model of the slings, rings, blocks and lines with which a tree is taken
down in pieces, finds where everything settles, and says what every part
carries, how hard and which way every anchor is pulled, and which part is
closest to its limit. Draws it to scale, works one node by hand, and puts the
figures into a review.")

set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libfunicle0)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libs)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_CONTROL_EXTRA ${PROJECT_SOURCE_DIR}/.packaging/triggers)
set(CPACK_DEBIAN_LIBRARY_DESCRIPTION "forces in networks of ropes - shared library
Models of anchor and redirect networks of ropes, built by calls or read from
XML, their forces, limits and what they depend on; answers as structures, as
text, JSON or CSV.")

set(CPACK_DEBIAN_HEADERS_PACKAGE_NAME libfunicle-dev)
set(CPACK_DEBIAN_HEADERS_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_HEADERS_PACKAGE_DEPENDS "libfunicle0 (= ${PROJECT_VERSION}), ${FUNICLE_DEV_DEPENDS}")
set(CPACK_DEBIAN_HEADERS_DESCRIPTION "forces in networks of ropes - headers and static library
What a program that uses libfunicle is built with: headers, the static library,
and files that tell pkg-config and CMake where they are.")
include(CPack)
