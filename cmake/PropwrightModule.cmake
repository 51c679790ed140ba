# The house rules of a module, in one place: its own include root, its declared links and nothing
# else, the warnings, and reproducible floating point (no contraction, no fast-math).
#
#   propwright_module(rotor USES section air SOURCES rotor.cpp map.cpp PACKAGES Eigen3::Eigen)
#
# makes the library propwright_rotor (alias propwright::rotor). Its public headers live in
# src/rotor/include/propwright/rotor/. A module sees the headers of what it USES, so an include that
# goes up or sideways does not compile. With PROPWRIGHT_JOIN the files of SOURCES are compiled a
# two dozen at a time, those of APART (optional) each alone.

include_guard()

function(propwright_compile_settings target)
  target_compile_features(${target} PUBLIC cxx_std_20)
  set_target_properties(${target} PROPERTIES CXX_EXTENSIONS OFF)
  target_compile_options(${target} PRIVATE
    -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Wnon-virtual-dtor
    -Wold-style-cast -Woverloaded-virtual -ffp-contract=off
    # GCC 12 sees overlapping copies in plain std::string concatenation (GCC bug 105329).
    $<$<CXX_COMPILER_ID:GNU>:-Wno-restrict>
    $<$<BOOL:${PROPWRIGHT_WARNINGS_AS_ERRORS}>:-Werror>)
  if(PROPWRIGHT_JOIN)
    set_target_properties(${target} PROPERTIES UNITY_BUILD ON UNITY_BUILD_BATCH_SIZE 24)
    # A helper of one file may have the name of a local variable in another.
    target_compile_options(${target} PRIVATE
      -Wno-shadow $<$<CXX_COMPILER_ID:GNU>:-Wshadow=local>)
  endif()
  if(PROPWRIGHT_SANITIZE)
    target_compile_options(${target} PRIVATE -fsanitize=${PROPWRIGHT_SANITIZE}
      -fno-omit-frame-pointer -fno-sanitize-recover=all
      # GCC's own words: these warnings are less reliable with sanitizers (here: std::regex).
      $<$<CXX_COMPILER_ID:GNU>:-Wno-maybe-uninitialized>)
    target_link_options(${target} PUBLIC -fsanitize=${PROPWRIGHT_SANITIZE})
    # With the checks in, optimising is nearly half of the compile time; it pays only where the
    # program's time is spent.
    if(NOT target MATCHES "^propwright_(base|section|rotor|form|rubber|spar|flight|flex|predict|asbuilt|shape|solid|learn|verdict)$")
      target_compile_options(${target} PRIVATE -O0)
    endif()
  elseif(CMAKE_BUILD_TYPE STREQUAL "Release" AND target MATCHES "^propwright_(answer|desk|server|sheet|workshop)$")
    # These word, print and keep what the others compute: with little optimising they are as quick
    # for a person, and take two thirds of the time to compile.
    target_compile_options(${target} PRIVATE -O1)
  endif()
endfunction()

# A test asks and compares; what it tests is compiled as it is used. Little optimising halves the
# compile time of the tests.
function(propwright_test_settings target)
  propwright_compile_settings(${target})
  if(NOT PROPWRIGHT_SANITIZE)
    target_compile_options(${target} PRIVATE -O1)
  endif()
endfunction()

function(propwright_module name)
  cmake_parse_arguments(arg "" "" "USES;SOURCES;APART;PACKAGES;PRIVATE_PACKAGES" ${ARGN})
  set(target propwright_${name})
  set_source_files_properties(${arg_APART} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
  add_library(${target} STATIC ${arg_SOURCES} ${arg_APART})
  add_library(propwright::${name} ALIAS ${target})
  target_include_directories(${target} PUBLIC include)
  propwright_compile_settings(${target})
  foreach(used IN LISTS arg_USES)
    target_link_libraries(${target} PUBLIC propwright::${used})
  endforeach()
  target_link_libraries(${target} PUBLIC ${arg_PACKAGES} PRIVATE ${arg_PRIVATE_PACKAGES})
endfunction()

# The headers nearly every test reads first, compiled once for all of them: half of a test file's
# compile time. Off unless asked for, because compiler caches work worse with it.
function(propwright_precompile_test_headers target)
  if(NOT TARGET propwright_test_headers)
    find_package(rapidcheck REQUIRED)
    add_library(propwright_test_headers OBJECT
      ${PROJECT_SOURCE_DIR}/tests/support/precompiled.cpp)
    propwright_test_settings(propwright_test_headers)
    target_link_libraries(propwright_test_headers PRIVATE GTest::gmock rapidcheck)
    target_precompile_headers(propwright_test_headers PRIVATE
      <gmock/gmock.h> <gtest/gtest.h> <rapidcheck.h> <rapidcheck/gtest.h> <cmath> <map> <optional>
      <sstream> <string> <vector>)
  endif()
  target_precompile_headers(${target} REUSE_FROM propwright_test_headers)
  # The first so that ccache can tell whether the headers changed. From precompiled headers GCC 12
  # also reports what it imagines inside std::string (GCC bug 105329) and else keeps to itself.
  target_compile_options(${target} PRIVATE
    $<$<CXX_COMPILER_ID:GNU>:-fpch-preprocess -Wno-stringop-overflow -Wno-array-bounds>)
endfunction()

# propwright_test(rotor USES rotor data SOURCES rotor_test.cpp laws_test.cpp) makes the GoogleTest
# program test_rotor and registers each of its cases with CTest; under the sanitizers, where a
# program takes a quarter of a second to start and end, its cases in two heaps. Cases named by
# UNSANITIZED (gtest patterns) are left out there: they do thousands of times what others do once, or
# their time is a library's. TOGETHER runs all cases in one process, where several share what takes
# seconds to make.
function(propwright_test name)
  cmake_parse_arguments(arg "TOGETHER" "" "USES;SOURCES;PACKAGES;UNSANITIZED" ${ARGN})
  set(target test_${name})
  add_executable(${target} ${arg_SOURCES})
  propwright_test_settings(${target})
  target_include_directories(${target} PRIVATE ${PROJECT_SOURCE_DIR}/tests/support)
  foreach(used IN LISTS arg_USES)
    target_link_libraries(${target} PRIVATE propwright::${used})
  endforeach()
  target_compile_definitions(${target} PRIVATE
    PROPWRIGHT_SOURCE_DIR="${PROJECT_SOURCE_DIR}"
    PROPWRIGHT_TEST_DATA_DIR="${PROJECT_SOURCE_DIR}/tests/published/data")
  target_link_libraries(${target} PRIVATE ${arg_PACKAGES} GTest::gmock GTest::gtest_main)
  if(PROPWRIGHT_PRECOMPILE)
    propwright_precompile_test_headers(${target})
  endif()
  if(PROPWRIGHT_SANITIZE)
    set(filter "*")
    if(arg_UNSANITIZED)
      list(JOIN arg_UNSANITIZED ":" filter)
      set(filter "*-${filter}")
    endif()
    foreach(heap 0 1)
      add_test(NAME ${target}.${heap} COMMAND ${target})
      set_tests_properties(${target}.${heap} PROPERTIES TIMEOUT 1200
        ENVIRONMENT "GTEST_TOTAL_SHARDS=2;GTEST_SHARD_INDEX=${heap};GTEST_FILTER=${filter}")
    endforeach()
  elseif(arg_TOGETHER)
    add_test(NAME ${target} COMMAND ${target})
    set_tests_properties(${target} PROPERTIES TIMEOUT 600)
  else()
    gtest_discover_tests(${target} DISCOVERY_MODE PRE_TEST PROPERTIES TIMEOUT 600)
  endif()
endfunction()
