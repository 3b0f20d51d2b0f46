# SPDX-License-Identifier: MIT
# The benchmark: bench/bench.c and the cases beside it, against the library as users get it.
include(needs)

file(GLOB FH_BENCH_SOURCES CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/bench/*.c)
add_executable(bench ${FH_BENCH_SOURCES})
target_link_libraries(bench PRIVATE fh_flags firnhaul_cli firnhaul_static)
target_link_options(bench PRIVATE -Wl,--as-needed)
foreach(file IN LISTS FH_BENCH_SOURCES)
  fh_link_needs(bench ${file})
endforeach()
target_compile_definitions(bench PRIVATE
  "BENCH_BUILD=\"${CMAKE_C_COMPILER_ID} ${CMAKE_C_COMPILER_VERSION} ${CMAKE_C_FLAGS} $<$<CONFIG:Release>:${CMAKE_C_FLAGS_RELEASE}> -ffp-contract=off\"")

# The same for the page: what its module does, natively (page/tests/speed.mjs).
file(GLOB FH_PAGE_CORE CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/page/core*.c)
add_executable(page_native ${FH_PAGE_CORE} ${PROJECT_SOURCE_DIR}/page/tests/native.c)
target_compile_options(page_native PRIVATE "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/src\"")
target_link_libraries(page_native PRIVATE fh_flags firnhaul_static)
