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
set_source_files_properties(${FH_PAGE_CORE} PROPERTIES COMPILE_OPTIONS "$<$<CONFIG:Release>:-Os>")
target_compile_options(page_core PRIVATE "SHELL:-iquote \"${PROJECT_SOURCE_DIR}/src\"")
target_link_libraries(page_core PRIVATE fh_flags firnhaul_static)
target_link_options(page_core PRIVATE -mexec-model=reactor -Wl,--strip-all)

# The page in one file, where its tools are (npm ci in page/).
find_program(NODE node)
if(NODE AND EXISTS ${PROJECT_SOURCE_DIR}/page/node_modules/esbuild)
  set(FH_PAGE_HTML ${CMAKE_CURRENT_BINARY_DIR}/firnhaul.html)
  file(GLOB_RECURSE FH_PAGE_SOURCES CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/page/src/*)
  add_custom_command(OUTPUT ${FH_PAGE_HTML}
    COMMAND ${NODE} ${PROJECT_SOURCE_DIR}/page/build.mjs $<TARGET_FILE:page_core> ${FH_PAGE_HTML}
    DEPENDS page_core ${PROJECT_SOURCE_DIR}/page/build.mjs ${FH_PAGE_SOURCES} VERBATIM)
  add_custom_target(page ALL DEPENDS ${FH_PAGE_HTML})

  if(FH_TESTS AND FH_NATIVE)
    set(tests ${PROJECT_SOURCE_DIR}/page/tests)
    get_filename_component(native_folder ${FH_NATIVE} DIRECTORY)
    function(fh_page_test name)
      add_test(NAME page.${name} COMMAND ${NODE} ${ARGN} WORKING_DIRECTORY ${PROJECT_SOURCE_DIR})
      set_tests_properties(page.${name} PROPERTIES TIMEOUT 1500)
    endfunction()
    fh_page_test(types ${PROJECT_SOURCE_DIR}/page/node_modules/typescript/bin/tsc -p ${PROJECT_SOURCE_DIR}/page)
    fh_page_test(tables ${tests}/tables.mjs $<TARGET_FILE:page_core>)
    fh_page_test(agree ${tests}/agree.mjs $<TARGET_FILE:page_core> ${FH_NATIVE} ${native_folder}/page_rigs 10000)
    foreach(browser chromium firefox)
      fh_page_test(first.${browser} ${tests}/first.mjs ${browser} ${FH_PAGE_HTML} $<TARGET_FILE:page_core> ${FH_NATIVE})
      fh_page_test(flows.${browser} ${tests}/flows.mjs ${browser} ${FH_PAGE_HTML} ${FH_NATIVE})
      fh_page_test(figure.${browser} ${tests}/figure.mjs ${browser} $<TARGET_FILE:page_core>)
      fh_page_test(access.${browser} ${tests}/access.mjs ${browser} ${FH_PAGE_HTML})
      fh_page_test(narrow.${browser} ${tests}/narrow.mjs ${browser} ${FH_PAGE_HTML})
    endforeach()
    fh_page_test(site ${tests}/site.mjs ${FH_NATIVE})
  endif()
endif()
