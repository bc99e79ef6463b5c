# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
# Compiles the cited tables of data/ into constants, and stamps their digest.
set(BW_DATA_TABLES
  sources atomic_weights constituents reference_composition natural_traces hazard_statements pure_salts
  aqueous_species interaction_seawater interaction_brine reactions minerals growth dissolving
  deliquescence ions)
set(BW_DATA_FILES)
set(BW_DATA_HASHES "")
foreach(table IN LISTS BW_DATA_TABLES)
  set(file "${CMAKE_SOURCE_DIR}/data/${table}.toml")
  list(APPEND BW_DATA_FILES "${file}")
  set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${file}")
  file(SHA256 "${file}" hash)
  string(APPEND BW_DATA_HASHES "${table} ${hash}\n")
endforeach()
string(SHA256 BW_DATA_DIGEST "${BW_DATA_HASHES}")

add_executable(datac "${CMAKE_SOURCE_DIR}/tools/datac/datac.cpp" "${CMAKE_SOURCE_DIR}/tools/datac/cells.cpp"
                     "${CMAKE_SOURCE_DIR}/tools/datac/brine.cpp")
target_link_libraries(datac PRIVATE bw_compiler)

set(BW_GENERATED_DIR "${CMAKE_BINARY_DIR}/generated")
set(BW_TABLES_INC "${BW_GENERATED_DIR}/ref/generated_tables.inc")
set(BW_BRINE_TABLES_INC "${BW_GENERATED_DIR}/ref/generated_brine_tables.inc")
add_custom_command(
  OUTPUT "${BW_TABLES_INC}" "${BW_BRINE_TABLES_INC}"
  COMMAND ${CMAKE_COMMAND} -E make_directory "${BW_GENERATED_DIR}/ref"
  COMMAND datac --data "${CMAKE_SOURCE_DIR}/data" --digest "${BW_DATA_DIGEST}" --out "${BW_TABLES_INC}"
          --brine-out "${BW_BRINE_TABLES_INC}"
  DEPENDS datac ${BW_DATA_FILES}
  COMMENT "Compiling the data tables"
  VERBATIM)
add_custom_target(bw_generated_tables DEPENDS "${BW_TABLES_INC}" "${BW_BRINE_TABLES_INC}")
