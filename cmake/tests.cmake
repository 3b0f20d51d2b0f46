# SPDX-License-Identifier: MIT
# Tests: one executable a file, each a CTest test. Named PREFIX + kind + name, so that one CTest run can hold many builds.

pkg_check_modules(CMOCKA REQUIRED IMPORTED_TARGET cmocka)
include(needs)

# The core once more, with memory that can be made to fail.
fh_core(firnhaul_test STATIC ${FH_CORE_SOURCES})
target_compile_definitions(firnhaul_test PUBLIC FHI_FAULT)
target_link_libraries(firnhaul_test PUBLIC m)

# The same program with MPI, where there is one (the reference libraries bring it): its own cli/mpi.c goes before the library's.
if(FH_REFS AND NOT FH_MPI AND NOT FH_COVERAGE)
  find_package(MPI QUIET COMPONENTS C)
  if(MPI_C_FOUND)
    add_executable(firnhaul_mpi ${PROJECT_SOURCE_DIR}/cli/main.c ${PROJECT_SOURCE_DIR}/cli/mpi.c)
    target_compile_definitions(firnhaul_mpi PRIVATE FH_MPI=1)
    target_link_libraries(firnhaul_mpi PRIVATE fh_flags firnhaul_cli firnhaul_static MPI::MPI_C)
    set(FH_TEST_MPI "FIRNHAUL_MPI=$<TARGET_FILE:firnhaul_mpi>" "FIRNHAUL_MPIRUN=${MPIEXEC_EXECUTABLE}")
  endif()
endif()

set(FH_TEST_ENV
  ${FH_TEST_MPI}
  "FIRNHAUL=$<TARGET_FILE:firnhaul>"
  "FH_SOURCE=${PROJECT_SOURCE_DIR}"
  "FH_BUILD=${CMAKE_CURRENT_BINARY_DIR}"
  "LC_ALL=C.UTF-8"
  "UBSAN_OPTIONS=print_stacktrace=1"
  "ASAN_OPTIONS=detect_stack_use_after_return=1:allocator_may_return_null=1"
  "LSAN_OPTIONS=suppressions=${PROJECT_SOURCE_DIR}/tests/leaks.txt:print_suppressions=0")

# Tests run in the source tree's root, so that examples/ and tests/ are near.
function(fh_test name)
  add_test(NAME ${FH_TEST_PREFIX}${name} COMMAND ${ARGN} WORKING_DIRECTORY ${PROJECT_SOURCE_DIR})
  set_tests_properties(${FH_TEST_PREFIX}${name} PROPERTIES ENVIRONMENT "${FH_TEST_ENV}" TIMEOUT 300)
endfunction()

# An executable that sees the core's inside, the command line's functions and the reference libraries that it asks for.
function(fh_test_program target file)
  add_executable(${target} ${file} ${ARGN})
  target_compile_options(${target} PRIVATE "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/tests/unit\"")
  target_include_directories(${target} SYSTEM PRIVATE ${RENDER_INCLUDE_DIRS})
  target_link_libraries(${target} PRIVATE fh_flags firnhaul_cli firnhaul_test PkgConfig::CMOCKA ${RENDER_LIBRARIES})
  target_link_options(${target} PRIVATE -Wl,--as-needed)
  fh_link_needs(${target} ${file})
endfunction()

file(GLOB unit CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/unit/test_*.c ${PROJECT_SOURCE_DIR}/tests/fault/test_*.c)
foreach(file IN LISTS unit)
  get_filename_component(name ${file} NAME_WE)
  string(REGEX REPLACE "^test_" "" name ${name})
  fh_test_program(test_${name} ${file})
  fh_test(unit.${name} test_${name})
endforeach()

# Published values: every check file through one runner.
if(EXISTS ${PROJECT_SOURCE_DIR}/tests/check/run_check.c)
  fh_test_program(run_check ${PROJECT_SOURCE_DIR}/tests/check/run_check.c)
  file(GLOB checks CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/check/*.check)
  foreach(file IN LISTS checks)
    get_filename_component(name ${file} NAME_WE)
    fh_test(check.${name} run_check ${file})
  endforeach()
  fh_test(check.self-test run_check --self-test)
endif()

# The command line from outside. A script gets the program and the tree's root; 77 says that something it needs is not there.
foreach(kind cli fault)
  file(GLOB scripts CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/${kind}/test_*.sh)
  foreach(file IN LISTS scripts)
    get_filename_component(name ${file} NAME_WE)
    string(REGEX REPLACE "^test_" "" name ${name})
    fh_test(${kind}.${name} sh ${file} $<TARGET_FILE:firnhaul> ${PROJECT_SOURCE_DIR})
    set_tests_properties(${FH_TEST_PREFIX}${kind}.${name} PROPERTIES SKIP_RETURN_CODE 77)
  endforeach()
endforeach()

# What fuzzing has found, and what it starts from, once through every target.
file(GLOB targets CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/fuzz/fuzz_*.c)
foreach(file IN LISTS targets)
  get_filename_component(name ${file} NAME_WE)
  string(REGEX REPLACE "^fuzz_" "" name ${name})
  fh_test_program(replay_${name} ${file} ${PROJECT_SOURCE_DIR}/fuzz/replay.c)
  fh_test(replay.${name} replay_${name} ${PROJECT_SOURCE_DIR}/fuzz/corpus/${name})
endforeach()

# Against other people's code.
if(FH_REFS)
  file(GLOB common CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/refs/common/*.c)
  if(common)
    add_library(ref_common STATIC ${common})
    target_compile_definitions(ref_common PRIVATE FHI_FAULT)
    target_include_directories(ref_common PRIVATE ${PROJECT_SOURCE_DIR}/include)
    target_compile_options(ref_common PRIVATE "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/src\"")
    target_link_libraries(ref_common PRIVATE fh_flags)
  endif()
  file(GLOB refs CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/refs/ref_*.c)
  foreach(file IN LISTS refs)
    get_filename_component(name ${file} NAME_WE)
    add_executable(${name} ${file})
    target_compile_options(${name} PRIVATE "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/tests/unit\"")
    # ref_common before the libraries that it calls, and those before libm.
    if(common)
      target_link_libraries(${name} PRIVATE ref_common)
    endif()
    fh_link_needs(${name} ${file})
    target_link_libraries(${name} PRIVATE fh_flags firnhaul_cli firnhaul_test PkgConfig::CMOCKA)
    target_link_options(${name} PRIVATE -Wl,--as-needed)
    string(REGEX REPLACE "^ref_" "" name_short ${name})
    fh_test(ref.${name_short} ${name})
  endforeach()
endif()

# Random rigs and the native answers, for the page's module to agree with (page/tests/agree.mjs).
if(FH_REFS AND common)
  add_executable(page_rigs ${PROJECT_SOURCE_DIR}/page/tests/random_rigs.c)
  target_link_libraries(page_rigs PRIVATE fh_flags ref_common firnhaul_cli firnhaul_static)
endif()

# Rules of the house that can be read off the text, and the package as a user gets it: once is enough.
if(FH_TEST_PREFIX STREQUAL "" AND CMAKE_BUILD_TYPE STREQUAL Release)
  foreach(kind house install)
    file(GLOB scripts CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/${kind}/test_*.sh)
    foreach(file IN LISTS scripts)
      get_filename_component(name ${file} NAME_WE)
      string(REGEX REPLACE "^test_" "" name ${name})
      fh_test(${kind}.${name} sh ${file} ${CMAKE_CURRENT_BINARY_DIR} ${PROJECT_SOURCE_DIR})
    endforeach()
  endforeach()
endif()
