# SPDX-License-Identifier: MIT
# Toolchain: the core as WebAssembly, with clang and wasi-libc as Debian 12 ships them.
# Whole blocks of memory are set and copied by instructions of their own, which every browser has that the page needs (docs/page.md).
# Headers: only those of wasi-libc (-nostdlibinc), else clang falls back to the host's.
# Stack first and 1 MiB: an overflow then traps, where it would silently overwrite data. No -O at link: clang would run
# wasm-opt if one happens to be on PATH, and the module would depend on it.
list(APPEND CMAKE_MODULE_PATH ${CMAKE_CURRENT_LIST_DIR})
set(CMAKE_SYSTEM_NAME WASI)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(CMAKE_C_COMPILER clang-14)
set(CMAKE_C_COMPILER_TARGET wasm32-wasi)
set(CMAKE_AR llvm-ar-14 CACHE FILEPATH "")
set(CMAKE_RANLIB llvm-ranlib-14 CACHE FILEPATH "")
set(CMAKE_C_FLAGS_INIT "-nostdlibinc -isystem /usr/include/wasm32-wasi -mbulk-memory")
set(CMAKE_EXE_LINKER_FLAGS_INIT "-Wl,--strip-debug -Wl,--stack-first -Wl,-z,stack-size=1048576 -Wno-unused-command-line-argument")
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
set(CMAKE_FIND_ROOT_PATH /usr/lib/wasm32-wasi /usr/include/wasm32-wasi)
set(CMAKE_FIND_ROOT_PATH_MODE_PROGRAM NEVER)
set(CMAKE_FIND_ROOT_PATH_MODE_LIBRARY ONLY)
set(CMAKE_FIND_ROOT_PATH_MODE_INCLUDE ONLY)
