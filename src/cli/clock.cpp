// SPDX-License-Identifier: MIT
#include "cli/clock.hpp"

#include <cstdlib>
#include <ctime>

namespace tidemark::cli {

std::chrono::sys_seconds now() {
    if (const char* told = std::getenv("SOURCE_DATE_EPOCH"))
        return std::chrono::sys_seconds(std::chrono::seconds(std::strtoll(told, nullptr, 10)));
    return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
}

std::chrono::local_seconds kitchen_now() {
    using namespace std::chrono;
    const std::time_t t = now().time_since_epoch().count();
    std::tm here{};
    localtime_r(&t, &here);
    const local_days day{year(here.tm_year + 1900) / (here.tm_mon + 1) / here.tm_mday};
    return day + hours(here.tm_hour) + minutes(here.tm_min);
}

} // namespace tidemark::cli
