# SPDX-License-Identifier: MIT
# The core as WebAssembly, and its tests under Node: the module's own smoke test, compared with the native program's
# answers (FH_NATIVE), and the published values of tests/check once more.

set(FH_NATIVE "" CACHE FILEPATH "The native firnhaul to compare with")

if(FH_TESTS)
  enable_testing()
  find_program(NODE node REQUIRED)

  # A module without imports: what a page loads.
  add_executable(smoke ${PROJECT_SOURCE_DIR}/tests/wasm/smoke.c ${PROJECT_SOURCE_DIR}/tests/wasm/no_system.c)
  target_compile_options(smoke PRIVATE "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/src\"")
  target_link_libraries(smoke PRIVATE fh_flags firnhaul_static)
  target_link_options(smoke PRIVATE -mexec-model=reactor)
  add_test(NAME ${FH_TEST_PREFIX}smoke
    COMMAND ${NODE} ${PROJECT_SOURCE_DIR}/tests/wasm/smoke.mjs $<TARGET_FILE:smoke> ${FH_NATIVE}
    WORKING_DIRECTORY ${PROJECT_SOURCE_DIR})

  # The check files, run by the same program as natively, as a WASI command.
  if(EXISTS ${PROJECT_SOURCE_DIR}/tests/check/run_check.c)
    add_executable(run_check ${PROJECT_SOURCE_DIR}/tests/check/run_check.c)
    target_compile_options(run_check PRIVATE
      "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/src\"" "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/tests/unit\"")
    target_link_libraries(run_check PRIVATE fh_flags firnhaul_static)
    file(GLOB checks CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/tests/check/*.check)
    foreach(file IN LISTS checks)
      get_filename_component(name ${file} NAME_WE)
      add_test(NAME ${FH_TEST_PREFIX}check.${name}
        COMMAND ${NODE} --no-warnings --experimental-wasi-unstable-preview1 ${PROJECT_SOURCE_DIR}/tests/wasm/wasi.mjs
          $<TARGET_FILE:run_check> tests/check/${name}.check
        WORKING_DIRECTORY ${PROJECT_SOURCE_DIR})
    endforeach()
  endif()
endif()

# What the page carries: the core and the page's own face of it. No imports either.
file(GLOB FH_PAGE_CORE CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/page/core*.c)
add_executable(page_core ${FH_PAGE_CORE} ${PROJECT_SOURCE_DIR}/tests/wasm/no_system.c)
target_compile_options(page_core PRIVATE "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/src\"")
target_link_libraries(page_core PRIVATE fh_flags firnhaul_static)
target_link_options(page_core PRIVATE -mexec-model=reactor)
