# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
# Language level, warnings, hardening, determinism, compiler cache.
set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)

find_program(BW_CCACHE ccache)
if(BW_CCACHE)  # the sloppiness that precompiled headers need: none of our sources asks for its own time
  set(CMAKE_CXX_COMPILER_LAUNCHER "${CMAKE_COMMAND}" -E env CCACHE_SLOPPINESS=pch_defines,time_macros "${BW_CCACHE}")
endif()

# bw_precompile(TARGET [HEADER ...]): headers that most sources of a target read take half of their build. Off, as in the
# sanitizer build, every source must name all that it uses.
option(BW_PRECOMPILE "Precompile the headers that most sources read (g++ only)" ON)
function(bw_precompile target)
  if(BW_PRECOMPILE AND CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    target_precompile_headers(${target} PRIVATE <algorithm> <array> <cmath> <functional> <map> <memory> <optional> <set> <string>
                              <vector> <fmt/format.h> "${CMAKE_SOURCE_DIR}/src/base/result.hpp" ${ARGN})
    # What ccache needs; and g++ 12 forgets that a precompiled std::string is a system's, and warns inside it (GCC bug 105651).
    target_compile_options(${target} PRIVATE $<$<COMPILE_LANGUAGE:CXX>:-fpch-preprocess> -Wno-stringop-overflow -Wno-array-bounds
                           -Wno-stringop-overread)
  endif()
endfunction()

# One interface target carries what every one of our own targets is compiled with.
add_library(bw_compiler INTERFACE)
target_compile_options(bw_compiler INTERFACE
  -Wall -Wextra -Wpedantic -Wconversion -Wsign-conversion -Wshadow -Wold-style-cast
  -Wnon-virtual-dtor -Werror
  -ffp-contract=off -fstack-protector-strong
  "-ffile-prefix-map=${CMAKE_SOURCE_DIR}=.")
# g++ 12 reports -Wrestrict inside its own std::string (GCC bug 105651).
# -Wdouble-promotion means float to double; clang's also warns of double to long double, which the certificates need.
target_compile_options(bw_compiler INTERFACE $<$<CXX_COMPILER_ID:GNU>:-Wno-restrict -Wdouble-promotion>)
target_compile_definitions(bw_compiler INTERFACE _GLIBCXX_ASSERTIONS EIGEN_MPL2_ONLY)
target_include_directories(bw_compiler INTERFACE "${CMAKE_SOURCE_DIR}/src")

if(BW_SANITIZE)
  target_compile_options(bw_compiler INTERFACE "-fsanitize=${BW_SANITIZE}" -fno-omit-frame-pointer -fno-sanitize-recover=all)
  target_link_options(bw_compiler INTERFACE "-fsanitize=${BW_SANITIZE}")
  if(BW_SANITIZE STREQUAL "thread")
    # The thread sanitizer knows no fences (-Wtsan); Boost.Asio puts them around handlers beside the locks that order these.
    target_compile_definitions(bw_compiler INTERFACE BOOST_ASIO_DISABLE_FENCED_BLOCK)
    target_compile_options(bw_compiler INTERFACE $<$<CXX_COMPILER_ID:GNU>:-Wno-tsan>)
  endif()
else()
  target_compile_definitions(bw_compiler INTERFACE _FORTIFY_SOURCE=2)
endif()

find_program(BW_MOLD mold)
if(BW_MOLD)
  target_link_options(bw_compiler INTERFACE -fuse-ld=mold)
endif()

# bw_room(name DEPENDS ... PRIVATE ...): one folder, one static library, one namespace.
function(bw_room name)
  cmake_parse_arguments(ARG "" "" "DEPENDS;PRIVATE" ${ARGN})
  file(GLOB sources CONFIGURE_DEPENDS "${CMAKE_CURRENT_SOURCE_DIR}/${name}/*.cpp")
  add_library(bw_${name} STATIC ${sources})
  target_link_libraries(bw_${name} PUBLIC $<BUILD_INTERFACE:bw_compiler> PRIVATE ${ARG_PRIVATE})
  target_include_directories(bw_${name} INTERFACE $<INSTALL_INTERFACE:include/brinewright>)
  target_compile_features(bw_${name} INTERFACE cxx_std_20)
  set_target_properties(bw_${name} PROPERTIES EXPORT_NAME ${name})
  list(LENGTH sources count)
  if(count GREATER 5)
    if("nlohmann_json::nlohmann_json" IN_LIST ARG_PRIVATE)
      bw_precompile(bw_${name} <nlohmann/json.hpp>)
    else()
      bw_precompile(bw_${name})
    endif()
  endif()
  foreach(dep IN LISTS ARG_DEPENDS)
    target_link_libraries(bw_${name} PUBLIC bw_${dep})
  endforeach()
endfunction()
