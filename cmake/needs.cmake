# SPDX-License-Identifier: MIT
# A test or benchmark that compares with a reference library says so in its first line: // needs: glpk gsl lapacke mujoco
# These libraries serve tests alone; nothing that a user installs links to them.

find_path(GLPK_INCLUDE glpk.h)
find_library(GLPK_LIBRARY glpk)
find_path(GSL_INCLUDE gsl/gsl_linalg.h)
find_library(GSL_LIBRARY gsl)
find_library(GSLCBLAS_LIBRARY gslcblas)
find_path(LAPACKE_INCLUDE lapacke.h)
find_library(LAPACKE_LIBRARY lapacke)
find_library(LAPACK_LIBRARY lapack)
find_library(BLAS_LIBRARY blas)
find_path(MUJOCO_INCLUDE mujoco/mujoco.h)
find_library(MUJOCO_LIBRARY mujoco)

set(FH_NEED_glpk ${GLPK_INCLUDE} ${GLPK_LIBRARY})
set(FH_NEED_gsl ${GSL_INCLUDE} ${GSL_LIBRARY} ${GSLCBLAS_LIBRARY})
set(FH_NEED_lapacke ${LAPACKE_INCLUDE} ${LAPACKE_LIBRARY} ${LAPACK_LIBRARY} ${BLAS_LIBRARY})
set(FH_NEED_mujoco ${MUJOCO_INCLUDE} ${MUJOCO_LIBRARY})

function(fh_needs_of file out)
  file(STRINGS ${file} line LIMIT_COUNT 1)
  if(line MATCHES "^// needs: (.*)")
    string(REPLACE " " ";" names "${CMAKE_MATCH_1}")
  endif()
  set(${out} ${names} PARENT_SCOPE)
endfunction()

# Links what the first line of `file` asks for. A library that is missing is an error: a test left out looks like one passed.
function(fh_link_needs target file)
  fh_needs_of(${file} names)
  foreach(name IN LISTS names)
    if(NOT DEFINED FH_NEED_${name})
      message(FATAL_ERROR "${file}: unknown need '${name}'")
    endif()
    list(POP_FRONT FH_NEED_${name} include)
    if(NOT include OR "${FH_NEED_${name}}" MATCHES "NOTFOUND" OR "${FH_NEED_${name}}" STREQUAL "")
      message(FATAL_ERROR "${file} needs ${name}, which is not installed")
    endif()
    target_include_directories(${target} SYSTEM PRIVATE ${include})
    target_link_libraries(${target} PRIVATE ${FH_NEED_${name}})
  endforeach()
endfunction()
