# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
# Installs into a folder of the build, looks at what is there, builds the program beside this file against it, and runs it.
set(prefix "${BUILD}/package/prefix")
set(work "${BUILD}/package/work")
file(REMOVE_RECURSE "${BUILD}/package")
file(MAKE_DIRECTORY "${BUILD}/package")
set(flags "")
if(SANITIZE)
  set(flags "-fsanitize=${SANITIZE}")
endif()
foreach(step IN ITEMS
    "${CMAKE_COMMAND};--install;${BUILD};--prefix;${prefix}"
    "${SOURCE}/installed.sh;${prefix}"
    "${CMAKE_COMMAND};-S;${SOURCE};-B;${work};-G;Ninja;-DCMAKE_PREFIX_PATH=${prefix};-DCMAKE_CXX_FLAGS=${flags}"
    "${CMAKE_COMMAND};--build;${work}"
    "${work}/reader")
  execute_process(COMMAND ${step} WORKING_DIRECTORY "${BUILD}/package" RESULT_VARIABLE code OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(NOT code EQUAL 0)
    message(FATAL_ERROR "${step}\n${said}")
  endif()
endforeach()
message(STATUS "${said}")
