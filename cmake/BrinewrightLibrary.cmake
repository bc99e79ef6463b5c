# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
# The floors that others may link: find_package(brinewright), then link brinewright::brine.
include(CMakePackageConfigHelpers)
include(GNUInstallDirs)

set(BW_LIBRARY_ROOMS base unit num ref matter brine)
set(BW_LIBRARY_TARGETS ${BW_LIBRARY_ROOMS})
list(TRANSFORM BW_LIBRARY_TARGETS PREPEND bw_)
install(TARGETS ${BW_LIBRARY_TARGETS} EXPORT brinewright ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR} COMPONENT library)
foreach(room IN LISTS BW_LIBRARY_ROOMS)
  install(DIRECTORY "${CMAKE_SOURCE_DIR}/src/${room}" DESTINATION include/brinewright COMPONENT library
          FILES_MATCHING PATTERN "*.hpp" PATTERN "*.inl" PATTERN "*.def")
endforeach()
install(EXPORT brinewright NAMESPACE brinewright:: DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/brinewright)
configure_package_config_file("${CMAKE_SOURCE_DIR}/cmake/brinewrightConfig.cmake.in"
  "${CMAKE_BINARY_DIR}/brinewrightConfig.cmake" INSTALL_DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/brinewright)
write_basic_package_version_file("${CMAKE_BINARY_DIR}/brinewrightConfigVersion.cmake" COMPATIBILITY SameMinorVersion)
install(FILES "${CMAKE_BINARY_DIR}/brinewrightConfig.cmake" "${CMAKE_BINARY_DIR}/brinewrightConfigVersion.cmake"
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/brinewright COMPONENT library)
