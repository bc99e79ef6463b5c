# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
# Puts the papers' typeface (Lato 2.0, OFL 1.1, Debian package fonts-lato; data/notices/lato-ofl.txt) into the binary:
# an assembler file takes the font files as they are, so that nothing is copied into the source tree.
set(BW_FONT_HOMES /usr/share/fonts/truetype/lato /usr/local/share/fonts/lato)
set(BW_FONTS_SOURCE "${CMAKE_BINARY_DIR}/generated/report/fonts.S")
set(assembler ".section .rodata\n")
set(BW_FONT_FILES)
foreach(face IN ITEMS Regular Bold Italic)
  find_file(BW_FONT_${face} "Lato-${face}.ttf" PATHS ${BW_FONT_HOMES} NO_DEFAULT_PATH)
  if(NOT BW_FONT_${face})
    message(FATAL_ERROR "Lato-${face}.ttf is missing: run tools/setup, or set BW_FONT_${face} to the file")
  endif()
  list(APPEND BW_FONT_FILES "${BW_FONT_${face}}")
  string(TOLOWER "${face}" lower)
  string(APPEND assembler ".global bw_font_${lower}, bw_font_${lower}_end\n.balign 16\nbw_font_${lower}:\n"
                          ".incbin \"${BW_FONT_${face}}\"\nbw_font_${lower}_end:\n")
endforeach()
string(APPEND assembler "#if defined(__linux__) && defined(__ELF__)\n.section .note.GNU-stack,\"\",%progbits\n#endif\n")
file(CONFIGURE OUTPUT "${BW_FONTS_SOURCE}" CONTENT "${assembler}" @ONLY)
set_source_files_properties("${BW_FONTS_SOURCE}" PROPERTIES OBJECT_DEPENDS "${BW_FONT_FILES}"
                                                           )
