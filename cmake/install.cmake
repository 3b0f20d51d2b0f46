# SPDX-License-Identifier: MIT
# What a user gets: program, libraries, header, pkg-config file, manual, completions, examples; as an install or as a .deb.

include(GNUInstallDirs)
file(RELATIVE_PATH FH_UP /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
configure_file(${PROJECT_SOURCE_DIR}/cmake/firnhaul.pc.in ${CMAKE_CURRENT_BINARY_DIR}/firnhaul.pc @ONLY)

install(TARGETS firnhaul RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(TARGETS firnhaul_static firnhaul_shared
  LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR} ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR})
file(GLOB FH_HEADERS CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/include/*.h)
install(FILES ${FH_HEADERS} DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/firnhaul.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)

install(FILES ${FH_SHARE}/firnhaul.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME firnhaul)
install(FILES ${FH_SHARE}/_firnhaul DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions)
if(SCDOC)
  find_program(GZIP gzip REQUIRED)
  add_custom_command(OUTPUT ${FH_SHARE}/firnhaul.1.gz
    COMMAND ${GZIP} -9nc ${FH_SHARE}/firnhaul.1 > ${FH_SHARE}/firnhaul.1.gz DEPENDS ${FH_SHARE}/firnhaul.1 VERBATIM)
  add_custom_target(manual ALL DEPENDS ${FH_SHARE}/firnhaul.1.gz)
  add_dependencies(manual share)  # with make each target would write the page itself, at the same time
  install(FILES ${FH_SHARE}/firnhaul.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
endif()

# Documents go where the package's name says; a missing one is no reason to fail.
install(FILES ${PROJECT_SOURCE_DIR}/README.md DESTINATION ${CMAKE_INSTALL_DOCDIR} OPTIONAL)
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/examples DESTINATION ${CMAKE_INSTALL_DOCDIR} OPTIONAL)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/docs/ DESTINATION ${CMAKE_INSTALL_DOCDIR} OPTIONAL FILES_MATCHING PATTERN "*.md" PATTERN "*.json")

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME firnhaul)
set(CPACK_PACKAGE_CONTACT "the firnhaul maintainers <maintainers@firnhaul.invalid>")
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# librsvg is loaded at run time, so that the packager's tool cannot see it.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "fonts-dejavu-core")
if(RENDER_FOUND)
  string(APPEND CPACK_DEBIAN_PACKAGE_DEPENDS ", librsvg2-2 (>= 2.46), libcairo2 (>= 1.16)")
endif()
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "crevasse-rescue raising rigs, computed
 Works out any rope rig that raises a person from a crevasse: forces, advantage,
 margins, rope and time; finds the best rigs that a kit can build; draws them to
 scale. A training aid: it does not replace instruction, local rules or makers'
 instructions, and its figures are estimates with ranges.")
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS ON)
include(CPack)
