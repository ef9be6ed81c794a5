# SPDX-License-Identifier: MIT
# Writes OUT, a C++ file holding the texts named in FILES as raw string literals.
set(code "// Generated from models/ by src/base/embed.cmake.\n#include \"base/embedded.hpp\"\n\n")
string(APPEND code "namespace tidemark::base {\nstd::vector<Embedded> embedded_models() {\n    return {\n")
foreach(file IN LISTS FILES)
  get_filename_component(name ${file} NAME)
  file(READ ${file} text)
  string(APPEND code "        {\"${name}\", R\"TIDEMARK(${text})TIDEMARK\"},\n")
endforeach()
string(APPEND code "    };\n}\n} // namespace tidemark::base\n")
file(WRITE ${OUT} "${code}")
