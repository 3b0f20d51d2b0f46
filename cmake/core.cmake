# SPDX-License-Identifier: MIT
# The core: C17 on libc and libm, as a static and a shared library.

set(CMAKE_C_STANDARD 17)
set(CMAKE_C_STANDARD_REQUIRED ON)
set(CMAKE_C_EXTENSIONS OFF)
if(NOT CMAKE_SYSTEM_NAME STREQUAL WASI)
  set(CMAKE_POSITION_INDEPENDENT_CODE ON)
endif()
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
set(CMAKE_C_FLAGS_RELEASE "-O2 -DNDEBUG")

# Same bits everywhere: no fused multiply-add behind our back.
add_library(fh_flags INTERFACE)
target_compile_options(fh_flags INTERFACE -ffp-contract=off
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wdouble-promotion -Wstrict-prototypes -Wmissing-prototypes -Wvla -Wundef)
if(FH_WERROR)
  target_compile_options(fh_flags INTERFACE -Werror)
endif()

file(GLOB FH_CORE_SOURCES CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/*.c ${PROJECT_SOURCE_DIR}/src/tables/*.c)
# The inner loops: solving forces and programmes, samples, building and scoring rigs, stepping falls.
file(GLOB FH_HOT_SOURCES CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/src/force*.c ${PROJECT_SOURCE_DIR}/src/search*.c
  ${PROJECT_SOURCE_DIR}/src/lp*.c ${PROJECT_SOURCE_DIR}/src/odds_run.c ${PROJECT_SOURCE_DIR}/src/batch.c ${PROJECT_SOURCE_DIR}/src/lanes.c
  ${PROJECT_SOURCE_DIR}/src/sample.c ${PROJECT_SOURCE_DIR}/src/tally.c ${PROJECT_SOURCE_DIR}/src/team_rope.c ${PROJECT_SOURCE_DIR}/src/team_step.c
  ${PROJECT_SOURCE_DIR}/src/team_wide*.c)
set_source_files_properties(${FH_HOT_SOURCES} PROPERTIES COMPILE_OPTIONS "$<$<CONFIG:Release>:-O3>")

# Falls of rope teams once more for wider registers; src/team_step.c asks the processor which it may use. Same bits.
if(CMAKE_SYSTEM_PROCESSOR MATCHES "^(x86_64|AMD64)$")
  set_property(SOURCE ${PROJECT_SOURCE_DIR}/src/team_wide4.c APPEND PROPERTY COMPILE_OPTIONS -mavx2)
  set_property(SOURCE ${PROJECT_SOURCE_DIR}/src/team_wide8.c APPEND PROPERTY COMPILE_OPTIONS -mavx512f)
elseif(CMAKE_SYSTEM_NAME STREQUAL WASI)  # in every browser that the page needs anyway (docs/page.md)
  set_property(SOURCE ${PROJECT_SOURCE_DIR}/src/team_wide2.c APPEND PROPERTY COMPILE_OPTIONS -msimd128)
endif()

# Only fh_* leaves the shared library: a linker script says so, and the header stays free of export marks.
function(fh_core name kind)
  add_library(${name} ${kind} ${ARGN})
  target_include_directories(${name} PUBLIC
    $<BUILD_INTERFACE:${PROJECT_SOURCE_DIR}/include> $<INSTALL_INTERFACE:include>)
  target_link_libraries(${name} PRIVATE $<BUILD_INTERFACE:fh_flags>)
endfunction()

if(CMAKE_SYSTEM_NAME STREQUAL WASI)
  # What is read, drawn and written once an answer: small rather than fast, the page has to be sent around.
  set(FH_COLD_SOURCES ${FH_CORE_SOURCES})
  list(FILTER FH_COLD_SOURCES INCLUDE REGEX
    "/(draw_|sheet|stages|anchor|scene|keys|gear|svg|budget|team_choose|team_weigh|haul_json|[a-z_]*_json|[a-z_]*words)[a-z_]*[.]c$|/(doc|notes|plan_missing|plan_change|plan_view|plan_simpler|plan_unlikely|report_brief|crew|limits|whole|haul_lip|lose_view|lose_ask|lose_parts|lose_pieces|shown|angle|read|refuse|said|schema|trip)[.]c$")
  set_source_files_properties(${FH_COLD_SOURCES} PROPERTIES COMPILE_OPTIONS "$<$<CONFIG:Release>:-Os>")
  fh_core(firnhaul_static STATIC ${FH_CORE_SOURCES})
else()
  add_library(fh_objects OBJECT ${FH_CORE_SOURCES})
  target_include_directories(fh_objects PRIVATE ${PROJECT_SOURCE_DIR}/include)
  target_link_libraries(fh_objects PRIVATE fh_flags)

  fh_core(firnhaul_static STATIC $<TARGET_OBJECTS:fh_objects>)
  target_link_libraries(firnhaul_static PUBLIC m)
  set_target_properties(firnhaul_static PROPERTIES OUTPUT_NAME firnhaul)

  fh_core(firnhaul_shared SHARED $<TARGET_OBJECTS:fh_objects>)
  target_link_libraries(firnhaul_shared PRIVATE m)
  target_link_options(firnhaul_shared PRIVATE -Wl,--version-script=${PROJECT_SOURCE_DIR}/cmake/firnhaul.map)
  set_target_properties(firnhaul_shared PROPERTIES OUTPUT_NAME firnhaul
    VERSION ${PROJECT_VERSION} SOVERSION ${PROJECT_VERSION_MAJOR}
    LINK_DEPENDS ${PROJECT_SOURCE_DIR}/cmake/firnhaul.map)
endif()
