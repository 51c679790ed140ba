# Builds the pages in web/ and puts them into the program.
#
#   propwright_web(propwright_server)
#
# The target gets the header "web_files.h" on its include path and the table behind it:
#
#   namespace propwright::web {
#   struct File {
#     std::string_view path;          // "/index.html", "/assets/index-Ab12Cd34.js"
#     std::string_view bytes;         // as built
#     std::string_view gzip;          // the same compressed; empty where that saves nothing
#     std::string_view content_type;  // "text/javascript; charset=utf-8"
#     bool hashed;                    // the name changes with the content: may be kept for ever
#   };
#   std::span<const File> files();    // sorted by path
#   }
#
# Which files there are is known only after the pages are built, so the table is written then, by
# web/scripts/embed.mjs; the bytes come in by .incbin as in PropwrightEmbed. Every address of a place
# (/brief, /blade, /designs) is answered with /index.html.
#
# `npm ci` runs when package-lock.json differs from what web/node_modules was installed from; the
# pages are built again when a file under web/ or docs/openapi.yaml changes. Both need Node 18 or
# newer, and only the first needs a network.

include_guard()

function(propwright_find_node)
  find_program(PROPWRIGHT_NODE NAMES node nodejs DOC "Node.js, 18 or newer")
  find_program(PROPWRIGHT_NPM NAMES npm DOC "npm, for the packages of web/package-lock.json")
  if(NOT PROPWRIGHT_NODE OR NOT PROPWRIGHT_NPM)
    message(FATAL_ERROR "The pages need node and npm. On Debian: apt-get install nodejs npm")
  endif()
  execute_process(COMMAND ${PROPWRIGHT_NODE} --version OUTPUT_VARIABLE version
    OUTPUT_STRIP_TRAILING_WHITESPACE)
  string(REGEX REPLACE "^v" "" version "${version}")
  if(version VERSION_LESS 18)
    message(FATAL_ERROR "The pages need Node 18 or newer; ${PROPWRIGHT_NODE} is ${version}.")
  endif()
endfunction()

function(propwright_web target)
  propwright_find_node()
  set(web ${PROJECT_SOURCE_DIR}/web)
  set(out ${CMAKE_CURRENT_BINARY_DIR}/web)
  file(GLOB_RECURSE sources CONFIGURE_DEPENDS ${web}/src/* ${web}/public/*)
  list(APPEND sources ${web}/index.html ${web}/floor.html ${web}/scripts/one_file.ts ${web}/scripts/offline.ts ${web}/scripts/worker.js ${web}/vite.config.ts ${web}/svelte.config.js
    ${web}/tsconfig.json ${web}/package.json ${web}/scripts/embed.mjs
    ${PROJECT_SOURCE_DIR}/docs/openapi.yaml)

  add_custom_command(
    OUTPUT ${out}/installed.stamp
    COMMAND ${PROPWRIGHT_NODE} ${web}/scripts/install.mjs ${PROPWRIGHT_NPM}
    COMMAND ${CMAKE_COMMAND} -E touch ${out}/installed.stamp
    DEPENDS ${web}/package-lock.json ${web}/scripts/install.mjs
    WORKING_DIRECTORY ${web}
    COMMENT "Packages of the pages, by the lock file"
    VERBATIM)
  add_custom_command(
    OUTPUT ${out}/web_files.S ${out}/web_files.cpp
    COMMAND ${PROPWRIGHT_NPM} run --silent build -- --outDir ${out}/dist --emptyOutDir --logLevel warn
    COMMAND ${PROPWRIGHT_NODE} ${web}/scripts/embed.mjs ${out}/dist ${out}
    DEPENDS ${out}/installed.stamp ${sources}
    WORKING_DIRECTORY ${web}
    COMMENT "The pages"
    VERBATIM)
  file(CONFIGURE OUTPUT ${out}/include/web_files.h @ONLY CONTENT [[
#pragma once

#include <span>
#include <string_view>

namespace propwright::web {

/// One file of the pages, as built (cmake/PropwrightWeb.cmake).
struct File {
  std::string_view path;          ///< as asked for: "/index.html"
  std::string_view bytes;         ///< as built
  std::string_view gzip;          ///< compressed; empty where that saves nothing
  std::string_view content_type;  ///< with charset where it is text
  bool hashed;                    ///< the name changes with the content: may be kept for ever
};

/// All files of the pages, sorted by path.
std::span<const File> files();

}  // namespace propwright::web
]])
  target_sources(${target} PRIVATE ${out}/web_files.S ${out}/web_files.cpp)
  target_include_directories(${target} PRIVATE ${out}/include)
endfunction()
