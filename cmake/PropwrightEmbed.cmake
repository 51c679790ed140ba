# Puts files into the program with the assembler's .incbin: they land in read-only data, cost no
# compile time, and the built program needs no file beside it.
#
#   propwright_embed(TARGET propwright_data ROOT ${PROJECT_SOURCE_DIR}/data FILES polars/a.csv b.csv)
#
# generates embedded.S with the bytes and embedded_table.cpp with the list of names.

include_guard()

function(propwright_embed)
  cmake_parse_arguments(arg "" "TARGET;ROOT" "FILES" ${ARGN})
  set(assembly ${CMAKE_CURRENT_BINARY_DIR}/embedded.S)
  set(table ${CMAKE_CURRENT_BINARY_DIR}/embedded_table.cpp)
  set(assembly_text "    .section .rodata\n")
  set(declarations "")
  set(entries "")
  set(index 0)
  set(paths "")
  foreach(file IN LISTS arg_FILES)
    set(symbol propwright_embedded_${index})
    list(APPEND paths ${arg_ROOT}/${file})
    string(APPEND assembly_text
      "    .balign 16\n    .global ${symbol}_begin\n${symbol}_begin:\n"
      "    .incbin \"${arg_ROOT}/${file}\"\n"
      "    .global ${symbol}_end\n${symbol}_end:\n    .byte 0\n")
    string(APPEND declarations "extern const char ${symbol}_begin[];\nextern const char ${symbol}_end[];\n")
    string(APPEND entries "    {\"${file}\", ${symbol}_begin, ${symbol}_end},\n")
    math(EXPR index "${index} + 1")
  endforeach()
  string(APPEND assembly_text "    .section .note.GNU-stack,\"\",@progbits\n")
  set(table_text
    "#include \"embedded_table.h\"\n\nextern \"C\" {\n${declarations}}\n\nnamespace propwright::data {\nconst EmbeddedFile embedded_files[] = {\n${entries}};\nconst unsigned embedded_file_count = ${index};\n}  // namespace propwright::data\n")
  file(GENERATE OUTPUT ${assembly} CONTENT "${assembly_text}")
  file(GENERATE OUTPUT ${table} CONTENT "${table_text}")
  set_source_files_properties(${assembly} PROPERTIES GENERATED TRUE OBJECT_DEPENDS "${paths}")
  set_source_files_properties(${table} PROPERTIES GENERATED TRUE)
  target_sources(${arg_TARGET} PRIVATE ${assembly} ${table})
  target_include_directories(${arg_TARGET} PRIVATE ${CMAKE_CURRENT_SOURCE_DIR})
endfunction()
