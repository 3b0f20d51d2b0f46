# SPDX-License-Identifier: MIT
# The command line: everything but main() is a library, so that unit tests reach it.

find_package(PkgConfig REQUIRED)
set(THREADS_PREFER_PTHREAD_FLAG ON)
find_package(Threads REQUIRED)
pkg_check_modules(YAML REQUIRED IMPORTED_TARGET yaml-0.1)
if(FH_RENDER)
  pkg_check_modules(RENDER cairo cairo-pdf cairo-png librsvg-2.0)
  if(NOT RENDER_FOUND)
    message(WARNING "cairo or librsvg is not there: no PNG and PDF figures (SVG stays)")
  endif()
endif()

# Fitting needs a least-squares library (cminpack, BSD-like licence), studies may write a database (SQLite, public domain).
pkg_check_modules(CMINPACK IMPORTED_TARGET cminpack)
pkg_check_modules(SQLITE IMPORTED_TARGET sqlite3)

file(GLOB FH_CLI_SOURCES CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/cli/*.c)
list(REMOVE_ITEM FH_CLI_SOURCES ${PROJECT_SOURCE_DIR}/cli/main.c)
add_library(firnhaul_cli STATIC ${FH_CLI_SOURCES})
target_include_directories(firnhaul_cli PUBLIC ${PROJECT_SOURCE_DIR}/include)
# For "quoted" headers only: <yaml.h> has to stay libyaml's, beside our own "yaml.h".
target_compile_options(firnhaul_cli PUBLIC 
  "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/cli\"" "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/src\"")
target_link_libraries(firnhaul_cli PRIVATE fh_flags PUBLIC PkgConfig::YAML Threads::Threads m)
if(FH_MPI)
  find_package(MPI REQUIRED COMPONENTS C)
  target_compile_definitions(firnhaul_cli PUBLIC FH_MPI=1)
  target_link_libraries(firnhaul_cli PUBLIC MPI::MPI_C)
endif()
if(CMINPACK_FOUND)
  target_compile_definitions(firnhaul_cli PUBLIC FH_FIT=1)
  target_link_libraries(firnhaul_cli PUBLIC PkgConfig::CMINPACK)
else()
  message(WARNING "cminpack is not there: no fit")
endif()
if(SQLITE_FOUND)
  target_compile_definitions(firnhaul_cli PUBLIC FH_SQLITE=1)
  target_link_libraries(firnhaul_cli PUBLIC PkgConfig::SQLITE)
else()
  message(WARNING "sqlite3 is not there: studies write CSV only")
endif()
if(RENDER_FOUND)
  target_compile_definitions(firnhaul_cli PUBLIC FH_RENDER=1)
  # Their headers only: the libraries are loaded at the first picture (cli/render_library.h).
  target_include_directories(firnhaul_cli SYSTEM PRIVATE ${RENDER_INCLUDE_DIRS})
  target_link_libraries(firnhaul_cli PUBLIC ${CMAKE_DL_LIBS})
endif()

# The page, built apart (./run page): the program carries it as it is.
set(FH_PAGE "" CACHE FILEPATH "The page for `firnhaul page`; empty: a program without it")
if(FH_PAGE)
  set_source_files_properties(${PROJECT_SOURCE_DIR}/cli/page_data.c PROPERTIES
    COMPILE_DEFINITIONS "FH_PAGE_FILE=\"${FH_PAGE}\"" OBJECT_DEPENDS ${FH_PAGE})
endif()

add_executable(firnhaul ${PROJECT_SOURCE_DIR}/cli/main.c)
# To count lines, program and tests have to run the very same objects.
if(FH_COVERAGE)
  target_link_libraries(firnhaul PRIVATE fh_flags firnhaul_cli firnhaul_test)
else()
  target_link_libraries(firnhaul PRIVATE fh_flags firnhaul_cli firnhaul_static)
endif()

# The manual page and the shells' completion come from the program's own table of commands.
set(FH_SHARE ${CMAKE_CURRENT_BINARY_DIR}/share)
file(MAKE_DIRECTORY ${FH_SHARE})
find_program(SCDOC scdoc)
add_custom_command(OUTPUT ${FH_SHARE}/firnhaul.bash ${FH_SHARE}/_firnhaul
  COMMAND firnhaul help --bash > ${FH_SHARE}/firnhaul.bash
  COMMAND firnhaul help --zsh > ${FH_SHARE}/_firnhaul
  DEPENDS firnhaul VERBATIM)
set(FH_SHARE_FILES ${FH_SHARE}/firnhaul.bash ${FH_SHARE}/_firnhaul)
if(SCDOC)
  add_custom_command(OUTPUT ${FH_SHARE}/firnhaul.1
    COMMAND firnhaul help --man-source > ${FH_SHARE}/firnhaul.1.scd
    COMMAND ${CMAKE_COMMAND} -E env SOURCE_DATE_EPOCH=0 ${SCDOC} < ${FH_SHARE}/firnhaul.1.scd > ${FH_SHARE}/firnhaul.1
    DEPENDS firnhaul VERBATIM)
  list(APPEND FH_SHARE_FILES ${FH_SHARE}/firnhaul.1)
endif()
add_custom_target(share ALL DEPENDS ${FH_SHARE_FILES})
