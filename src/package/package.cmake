# SPDX-License-Identifier: MIT
# What is installed beside the program, its manual and its completions: the library with its one header
# and CMake package, the JSON's schema, the papers; and a package of Debian's of all of it (cpack).
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(TIDEMARK_CONFIG_DIR ${CMAKE_INSTALL_LIBDIR}/cmake/tidemark)
set_target_properties(tidemark_core PROPERTIES EXPORT_NAME tidemark)
target_include_directories(tidemark_core INTERFACE
  $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}>)
install(TARGETS tidemark RUNTIME)
install(TARGETS tidemark_core EXPORT tidemark ARCHIVE)
install(FILES src/api/tidemark.hpp DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/tidemark)
install(EXPORT tidemark NAMESPACE tidemark:: FILE tidemark-targets.cmake
        DESTINATION ${TIDEMARK_CONFIG_DIR})
configure_package_config_file(src/package/tidemark-config.cmake.in
  ${PROJECT_BINARY_DIR}/tidemark-config.cmake INSTALL_DESTINATION ${TIDEMARK_CONFIG_DIR})
write_basic_package_version_file(${PROJECT_BINARY_DIR}/tidemark-config-version.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/tidemark-config.cmake
        ${PROJECT_BINARY_DIR}/tidemark-config-version.cmake DESTINATION ${TIDEMARK_CONFIG_DIR})
install(FILES src/output/schema.json DESTINATION ${CMAKE_INSTALL_DATADIR}/tidemark)
install(FILES README.md DEVELOPERS.md .ci/CITATION.cff DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(DIRECTORY examples/ DESTINATION ${CMAKE_INSTALL_DOCDIR}/examples
        FILES_MATCHING PATTERN "*.ini" PATTERN "*.csv")

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_CONTACT "Tidemark <tidemark@localhost>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "predicts how a cure moves into whole muscle")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SUGGESTS gnuplot)
# The header needs nothing; linking the library does.
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS
    "libboost-dev, libboost-iostreams-dev, libboost-filesystem-dev, libeigen3-dev, nlohmann-json3-dev")
include(CPack)
