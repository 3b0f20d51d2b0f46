# SPDX-License-Identifier: MIT
set(CMAKE_EXECUTABLE_SUFFIX .wasm)
