// SPDX-License-Identifier: MIT
/// What libFuzzer calls; TIDEMARK_TARGET is one of targets.hpp.
#include "targets.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
    tidemark::fuzz::TIDEMARK_TARGET(bytes, count);
    return 0;
}
