# Defines the imported target racking_re2. Debian 12's RE2 ships no CMake package, so the
# build and the installed package both find it by hand.
if(NOT TARGET racking_re2)
  find_path(RE2_INCLUDE_DIR re2/re2.h)
  find_library(RE2_LIBRARY re2)
  mark_as_advanced(RE2_INCLUDE_DIR RE2_LIBRARY)
  if(NOT RE2_INCLUDE_DIR OR NOT RE2_LIBRARY)
    message(FATAL_ERROR "RE2 was not found: install libre2-dev, or set RE2_INCLUDE_DIR and RE2_LIBRARY")
  endif()
  add_library(racking_re2 UNKNOWN IMPORTED)
  set_target_properties(racking_re2 PROPERTIES
    IMPORTED_LOCATION "${RE2_LIBRARY}"
    INTERFACE_INCLUDE_DIRECTORIES "${RE2_INCLUDE_DIR}")
endif()
