// SPDX-License-Identifier: MIT
/// Everything that reads what people write, fed with any bytes. Each function returns if the bytes
/// are read or refused as they should be, and aborts if not; sanitizers see the rest.
#pragma once

#include <cstddef>
#include <cstdint>

namespace tidemark::fuzz {

using Target = void(const std::uint8_t* bytes, std::size_t count);

Target quantity, date, case_file, stage, outline, cooler_log, notebook, drawing;

/// All of them, by the name of their folder in corpus/.
struct Named {
    const char* name;
    Target* target;
};
constexpr Named targets[] = {{"quantity", quantity},   {"date", date},
                             {"case_file", case_file}, {"stage", stage},
                             {"outline", outline},     {"cooler_log", cooler_log},
                             {"notebook", notebook},   {"drawing", drawing}};

} // namespace tidemark::fuzz
