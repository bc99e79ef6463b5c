# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
# What is installed beside the program, and a Debian package of it: cpack --config build/default/CPackConfig.cmake
include(GNUInstallDirs)
set(manuals "${CMAKE_BINARY_DIR}/manuals")
file(MAKE_DIRECTORY "${manuals}")
add_custom_command(
  OUTPUT "${manuals}/brinewright.1.gz" "${manuals}/brinewright" "${manuals}/_brinewright"
         "${manuals}/changelog.gz" "${manuals}/changelog.Debian.gz"
  COMMAND brinewright manual > "${manuals}/brinewright.1"
  COMMAND gzip -9nf "${manuals}/brinewright.1"
  COMMAND brinewright manual --completions bash > "${manuals}/brinewright"
  COMMAND brinewright manual --completions zsh > "${manuals}/_brinewright"
  COMMAND gzip -9nc "${CMAKE_SOURCE_DIR}/CHANGELOG.md" > "${manuals}/changelog.gz"
  COMMAND gzip -9nc "${CMAKE_SOURCE_DIR}/packaging/debian/changelog" > "${manuals}/changelog.Debian.gz"
  DEPENDS brinewright "${CMAKE_SOURCE_DIR}/CHANGELOG.md" "${CMAKE_SOURCE_DIR}/packaging/debian/changelog"
  COMMENT "Writing the manual page and the completions" VERBATIM)
add_custom_target(manuals ALL DEPENDS "${manuals}/brinewright.1.gz")

install(TARGETS brinewright RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT program)
install(FILES "${manuals}/brinewright.1.gz" DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program)
install(FILES "${manuals}/brinewright" DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT program)
install(FILES "${manuals}/_brinewright" DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions COMPONENT program)
install(FILES packaging/brinewright.service DESTINATION lib/systemd/system COMPONENT program)
install(FILES packaging/brinewright.sysusers DESTINATION lib/sysusers.d RENAME brinewright.conf COMPONENT program)
install(FILES packaging/debian/copyright "${manuals}/changelog.gz" "${manuals}/changelog.Debian.gz" DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(DIRECTORY data/notices DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
# Their licences ask that their notices go along with what is compiled in (docs/dependencies.md).
foreach(package IN ITEMS libboost1.74-dev libcli11-dev libeigen3-dev libexpected-dev libsundials-dev libtomlplusplus-dev
        nlohmann-json3-dev)
  install(FILES "/usr/share/doc/${package}/copyright" DESTINATION ${CMAKE_INSTALL_DOCDIR}/notices RENAME "${package}.txt"
          COMPONENT program OPTIONAL)
endforeach()
if(BW_UI)
  foreach(file IN ITEMS svelte/LICENSE.md clsx/license esm-env/LICENSE internmap/LICENSE d3-array/LICENSE d3-color/LICENSE
          d3-format/LICENSE d3-interpolate/LICENSE d3-path/LICENSE d3-scale/LICENSE d3-shape/LICENSE d3-time/LICENSE
          d3-time-format/LICENSE)
    get_filename_component(package "${file}" DIRECTORY)
    install(FILES "${CMAKE_SOURCE_DIR}/web/node_modules/${file}" DESTINATION ${CMAKE_INSTALL_DOCDIR}/notices
            RENAME "${package}.txt" COMPONENT program OPTIONAL)
  endforeach()
endif()
install(DIRECTORY examples DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program PATTERN "__pycache__" EXCLUDE)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME brinewright)
set(CPACK_PACKAGE_VENDOR "The Brinewright authors")
set(CPACK_PACKAGE_CONTACT "The Brinewright authors <brinewright@example.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION "Works out what to weigh so that a blend of the materials in hand makes the
water that is wanted, says whether it dissolves clear, keeps the books of a
works from the lots to the signed certificate, and shows them in a browser.
Commands, pages and a library.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME brinewright)
set(CPACK_DEBIAN_PACKAGE_RELEASE 1)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA "${CMAKE_SOURCE_DIR}/packaging/debian/postinst" "${CMAKE_SOURCE_DIR}/packaging/debian/prerm")
include(CPack)
