# SPDX-License-Identifier: MIT
# libFuzzer targets: fuzz/fuzz_NAME.c with seeds in fuzz/corpus/NAME/. ./run fuzz runs them; ./run test replays the seeds.

fh_core(firnhaul_fuzz STATIC ${FH_CORE_SOURCES})
target_compile_definitions(firnhaul_fuzz PUBLIC FHI_FAULT)
target_link_libraries(firnhaul_fuzz PUBLIC m)

file(GLOB targets CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/fuzz/fuzz_*.c)
add_custom_target(fuzzers)
foreach(file IN LISTS targets)
  get_filename_component(name ${file} NAME_WE)
  add_executable(${name} ${file})
  target_link_libraries(${name} PRIVATE fh_flags firnhaul_cli firnhaul_fuzz)
  target_link_options(${name} PRIVATE -fsanitize=fuzzer -Wl,--as-needed)
  add_dependencies(fuzzers ${name})
endforeach()
