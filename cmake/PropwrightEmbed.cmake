# Puts files into the program with the assembler's .incbin: they land in read-only data, cost no
# compile time, and the built program needs no file beside it.
#
#   propwright_embed(TARGET propwright_data NAMESPACE propwright::data
#     ROOT ${PROJECT_SOURCE_DIR}/data FILES polars/a.csv b.csv)
#
# generates embedded.S with the bytes, and embedded_table.h and .cpp with the list of names, for
# the target alone. The order of the list is that of FILES.

include_guard()

function(propwright_embed)
  cmake_parse_arguments(arg "" "TARGET;NAMESPACE;ROOT" "FILES" ${ARGN})
  set(folder ${CMAKE_CURRENT_BINARY_DIR}/embedded)
  set(assembly ${folder}/embedded.S)
  set(header ${folder}/embedded_table.h)
  set(table ${folder}/embedded_table.cpp)
  set(assembly_text "    .section .rodata\n")
  set(declarations "")
  set(entries "")
  set(index 0)
  set(paths "")
  foreach(file IN LISTS arg_FILES)
    set(symbol ${arg_TARGET}_embedded_${index})
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
  set(header_text
    "#pragma once\n\nnamespace ${arg_NAMESPACE} {\nstruct EmbeddedFile {\n  const char* name;\n  const char* begin;\n  const char* end;\n};\nextern const EmbeddedFile embedded_files[];\nextern const unsigned embedded_file_count;\n}  // namespace ${arg_NAMESPACE}\n")
  set(table_text
    "#include \"embedded_table.h\"\n\nextern \"C\" {\n${declarations}}\n\nnamespace ${arg_NAMESPACE} {\nconst EmbeddedFile embedded_files[] = {\n${entries}};\nconst unsigned embedded_file_count = ${index};\n}  // namespace ${arg_NAMESPACE}\n")
  file(GENERATE OUTPUT ${assembly} CONTENT "${assembly_text}")
  file(GENERATE OUTPUT ${header} CONTENT "${header_text}")
  file(GENERATE OUTPUT ${table} CONTENT "${table_text}")
  set_source_files_properties(${assembly} PROPERTIES GENERATED TRUE OBJECT_DEPENDS "${paths}")
  set_source_files_properties(${header} ${table} PROPERTIES GENERATED TRUE)
  target_sources(${arg_TARGET} PRIVATE ${assembly} ${table})
  target_include_directories(${arg_TARGET} PRIVATE ${folder})
endfunction()
