# What `cmake --install` puts where. The tree can be moved: nothing in it is absolute.
include(CMakePackageConfigHelpers)
set(PACKAGE_DIR ${CMAKE_INSTALL_LIBDIR}/cmake/racking)
set(RACKING_INSTALL_LEXICON ${CMAKE_INSTALL_DATADIR}/racking)

install(TARGETS racking racking_static EXPORT racking-targets)
install(EXPORT racking-targets NAMESPACE racking:: DESTINATION ${PACKAGE_DIR})
install(DIRECTORY include/racking DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}
  FILES_MATCHING PATTERN "*.hpp" PATTERN "*.h")

# The lexicon's sources and the schemas: a start for overlays, and the record's contract.
install(DIRECTORY ${RACKING_LEXICON_DIR}/ DESTINATION ${RACKING_INSTALL_LEXICON}/lexicon
  FILES_MATCHING PATTERN "*.toml" PATTERN "*.words" PATTERN "*.md" PATTERN "*.json")
file(GLOB RACKING_SCHEMAS CONFIGURE_DEPENDS lib/render/*.schema.json)
install(FILES ${RACKING_SCHEMAS} DESTINATION ${RACKING_INSTALL_LEXICON}/schema)
install(FILES LICENSE CHANGELOG.md DESTINATION ${CMAKE_INSTALL_DOCDIR})

configure_package_config_file(lib/package/racking-config.cmake.in
  ${CMAKE_CURRENT_BINARY_DIR}/racking-config.cmake
  INSTALL_DESTINATION ${PACKAGE_DIR} PATH_VARS RACKING_INSTALL_LEXICON)
write_basic_package_version_file(${CMAKE_CURRENT_BINARY_DIR}/racking-config-version.cmake
  COMPATIBILITY SameMinorVersion)   # before 1.0, a minor version may break
install(FILES
  ${CMAKE_CURRENT_BINARY_DIR}/racking-config.cmake
  ${CMAKE_CURRENT_BINARY_DIR}/racking-config-version.cmake
  lib/package/find_re2.cmake
  DESTINATION ${PACKAGE_DIR})

cmake_path(RELATIVE_PATH CMAKE_INSTALL_PREFIX
  BASE_DIRECTORY ${CMAKE_INSTALL_PREFIX}/${CMAKE_INSTALL_LIBDIR}/pkgconfig
  OUTPUT_VARIABLE RACKING_PC_PREFIX)
configure_file(lib/package/racking.pc.in racking.pc @ONLY)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/racking.pc
  DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
