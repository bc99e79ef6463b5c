# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
# What is installed beside the program, and a Debian package of it: cpack --config build/default/CPackConfig.cmake
include(GNUInstallDirs)
set(manuals "${CMAKE_BINARY_DIR}/manuals")
file(MAKE_DIRECTORY "${manuals}")
add_custom_command(
  OUTPUT "${manuals}/brinewright.1.gz" "${manuals}/brinewright" "${manuals}/_brinewright"
  COMMAND brinewright manual > "${manuals}/brinewright.1"
  COMMAND gzip -9nf "${manuals}/brinewright.1"
  COMMAND brinewright manual --completions bash > "${manuals}/brinewright"
  COMMAND brinewright manual --completions zsh > "${manuals}/_brinewright"
  DEPENDS brinewright
  COMMENT "Writing the manual page and the completions" VERBATIM)
add_custom_target(manuals ALL DEPENDS "${manuals}/brinewright.1.gz")

install(TARGETS brinewright RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR} COMPONENT program)
install(FILES "${manuals}/brinewright.1.gz" DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program)
install(FILES "${manuals}/brinewright" DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions COMPONENT program)
install(FILES "${manuals}/_brinewright" DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions COMPONENT program)
install(FILES packaging/brinewright.service DESTINATION lib/systemd/system COMPONENT program)
install(FILES packaging/brinewright.sysusers DESTINATION lib/sysusers.d RENAME brinewright.conf COMPONENT program)
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright COMPONENT program)
install(DIRECTORY data/notices DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(DIRECTORY examples DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program PATTERN "__pycache__" EXCLUDE)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME brinewright)
set(CPACK_PACKAGE_VENDOR "The Brinewright authors")
set(CPACK_PACKAGE_CONTACT "The Brinewright authors <brinewright@example.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME brinewright)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA "${CMAKE_SOURCE_DIR}/packaging/debian/postinst" "${CMAKE_SOURCE_DIR}/packaging/debian/prerm")
include(CPack)
