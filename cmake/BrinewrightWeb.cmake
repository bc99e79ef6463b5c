# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
# Builds the pages (web/, with npm) and puts them and the example works' files into the binary (tools/embed).
option(BW_UI "Build the pages and put them into the binary" ON)
find_package(Python3 REQUIRED COMPONENTS Interpreter)
set(BW_ASSETS_FOLDER "${CMAKE_BINARY_DIR}/generated/http")
set(BW_ASSETS_SOURCE "${BW_ASSETS_FOLDER}/assets.S")
set(BW_ASSETS_TABLE "${BW_ASSETS_FOLDER}/assets_table.inc")
set(BW_PLACES "/examples/=${CMAKE_SOURCE_DIR}/examples/works:*.toml")
file(GLOB BW_EXAMPLE_FILES CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/examples/works/*.toml")
set(BW_PLACE_FILES ${BW_EXAMPLE_FILES})
if(BW_UI)
  find_program(BW_NPM npm)
  if(NOT BW_NPM)
    message(FATAL_ERROR "npm is missing, with which the pages are built: run tools/setup, or set -DBW_UI=OFF for a "
                        "program without pages")
  endif()
  file(GLOB_RECURSE BW_WEB_SOURCES CONFIGURE_DEPENDS "${CMAKE_SOURCE_DIR}/web/src/*" "${CMAKE_SOURCE_DIR}/web/public/*")
  list(APPEND BW_WEB_SOURCES "${CMAKE_SOURCE_DIR}/web/index.html" "${CMAKE_SOURCE_DIR}/web/vite.config.ts"
       "${CMAKE_SOURCE_DIR}/examples/laboratory/alkalinity.csv" "${CMAKE_SOURCE_DIR}/examples/laboratory/chloride.csv"
       "${CMAKE_SOURCE_DIR}/examples/laboratory/calcium_packs.csv" "${CMAKE_SOURCE_DIR}/web/svelte.config.js" "${CMAKE_SOURCE_DIR}/web/tsconfig.json")
  set(BW_WEB_INSTALLED "${CMAKE_SOURCE_DIR}/web/node_modules/.package-lock.json")
  add_custom_command(
    OUTPUT "${BW_WEB_INSTALLED}"
    COMMAND ${BW_NPM} ci --loglevel=error --no-update-notifier --no-audit --no-fund
    WORKING_DIRECTORY "${CMAKE_SOURCE_DIR}/web"
    DEPENDS "${CMAKE_SOURCE_DIR}/web/package-lock.json"
    COMMENT "Fetching what the pages are built with"
    VERBATIM)
  set(BW_WEB_BUILT "${CMAKE_SOURCE_DIR}/web/dist/index.html")
  add_custom_command(
    OUTPUT "${BW_WEB_BUILT}"
    COMMAND ${BW_NPM} run --silent build
    WORKING_DIRECTORY "${CMAKE_SOURCE_DIR}/web"
    DEPENDS ${BW_WEB_SOURCES} "${BW_WEB_INSTALLED}"
    COMMENT "Building the pages"
    VERBATIM)
  list(APPEND BW_PLACES "/=${CMAKE_SOURCE_DIR}/web/dist")
  list(APPEND BW_PLACE_FILES "${BW_WEB_BUILT}")
endif()
add_custom_command(
  OUTPUT "${BW_ASSETS_SOURCE}" "${BW_ASSETS_TABLE}"
  COMMAND ${Python3_EXECUTABLE} "${CMAKE_SOURCE_DIR}/tools/embed/embed.py" --assembler "${BW_ASSETS_SOURCE}" --table
          "${BW_ASSETS_TABLE}" ${BW_PLACES}
  DEPENDS "${CMAKE_SOURCE_DIR}/tools/embed/embed.py" ${BW_PLACE_FILES}
  COMMENT "Taking the pages into the binary"
  VERBATIM)
