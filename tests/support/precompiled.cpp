// Makes a target for the precompiled headers of the tests (cmake/PropwrightModule.cmake).
