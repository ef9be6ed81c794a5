// SPDX-License-Identifier: MIT
/// What the standard library of the WebAssembly compiler (emscripten 3.1.6) lacks and the sources
/// use: algorithms on ranges, and floating numbers to and from characters. Included before every
/// source of that build, and of no other; it goes when the compiler's library has them.
#pragma once

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <functional>
#include <iterator>
#include <ranges>
#include <string>
#include <system_error>

namespace std {

/// As the standard's, without "inf" and "nan", which no input may hold.
inline from_chars_result from_chars(const char* first, const char* last, double& value) {
    const char* at = first;
    const auto digits = [&] {
        const char* from = at;
        while (at != last && *at >= '0' && *at <= '9')
            ++at;
        return at - from;
    };
    if (at != last && *at == '-')
        ++at;
    auto count = digits();
    if (at != last && *at == '.') {
        ++at;
        count += digits();
    }
    if (count == 0)
        return {first, errc::invalid_argument};
    if (const char* mantissa = at; at != last && (*at == 'e' || *at == 'E')) {
        ++at;
        if (at != last && (*at == '-' || *at == '+'))
            ++at;
        if (digits() == 0)
            at = mantissa;
    }
    const double read = strtod(string(first, at).c_str(), nullptr);
    if (read - read != 0)
        return {at, errc::result_out_of_range};
    value = read;
    return {at, errc{}};
}

inline to_chars_result to_chars(char* first, char* last, double value, chars_format form,
                                int digits) {
    const int size = snprintf(first, static_cast<size_t>(last - first),
                              form == chars_format::fixed ? "%.*f" : "%.*e", digits, value);
    return size < last - first ? to_chars_result{first + size, errc{}}
                               : to_chars_result{last, errc::value_too_large};
}

/// The fewest digits that read back as `value`.
inline to_chars_result to_chars(char* first, char* last, double value, chars_format form) {
    array<char, 40> text{};
    int digits = 0;
    while (
        to_chars(text.data(), text.data() + text.size(), value, chars_format::scientific, digits),
        strtod(text.data(), nullptr) != value && digits < 17)
        ++digits;
    const int power = atoi(strchr(text.data(), 'e') + 1);
    return to_chars(first, last, value, form,
                    form == chars_format::fixed ? max(0, digits - power) : digits);
}

namespace ranges {

namespace of_range {
/// What a predicate or an order sees of an element.
template <class F, class P> auto seen(F& f, P& project) {
    return [&](const auto&... x) -> decltype(auto) {
        return std::invoke(f, std::invoke(project, x)...);
    };
}
/// Equality with `value` after projection.
template <class T, class P> auto same(const T& value, P& project) {
    return [&](const auto& x) { return std::invoke(project, x) == value; };
}
} // namespace of_range

#define TIDEMARK_BY_PREDICATE(name)                                                                \
    template <range R, class F, class P = identity>                                                \
    constexpr auto name(R&& r, F f, P project = {}) {                                              \
        return std::name(ranges::begin(r), ranges::end(r), of_range::seen(f, project));            \
    }
TIDEMARK_BY_PREDICATE(all_of)
TIDEMARK_BY_PREDICATE(any_of)
TIDEMARK_BY_PREDICATE(none_of)
TIDEMARK_BY_PREDICATE(count_if)
TIDEMARK_BY_PREDICATE(find_if)
TIDEMARK_BY_PREDICATE(find_if_not)
#undef TIDEMARK_BY_PREDICATE

#define TIDEMARK_BY_ORDER(name)                                                                    \
    template <range R, class F = less, class P = identity>                                         \
    constexpr auto name(R&& r, F f = {}, P project = {}) {                                         \
        return std::name(ranges::begin(r), ranges::end(r), of_range::seen(f, project));            \
    }
TIDEMARK_BY_ORDER(sort)
TIDEMARK_BY_ORDER(stable_sort)
TIDEMARK_BY_ORDER(min_element)
TIDEMARK_BY_ORDER(max_element)
#undef TIDEMARK_BY_ORDER

template <range R, class T, class P = identity>
constexpr auto find(R&& r, const T& value, P project = {}) {
    return std::find_if(ranges::begin(r), ranges::end(r), of_range::same(value, project));
}
template <class I, class T> constexpr I find(I first, I last, const T& value) {
    return std::find(first, last, value);
}
template <range R, class T, class P = identity>
constexpr auto count(R&& r, const T& value, P project = {}) {
    return std::count_if(ranges::begin(r), ranges::end(r), of_range::same(value, project));
}
template <range R, class T, class U> constexpr void replace(R&& r, const T& old, const U& value) {
    for (auto& x : r)
        if (x == old)
            x = value;
}
template <range R, class F> constexpr void for_each(R&& r, F f) {
    for (auto&& x : r)
        std::invoke(f, x);
}
template <range R, class O> constexpr auto copy(R&& r, O out) {
    return std::copy(ranges::begin(r), ranges::end(r), out);
}
template <range R, class O> constexpr auto move(R&& r, O out) {
    return std::move(ranges::begin(r), ranges::end(r), out);
}
template <range R, class O, class F> constexpr auto copy_if(R&& r, O out, F f) {
    return std::copy_if(ranges::begin(r), ranges::end(r), out,
                        [&](const auto& x) { return std::invoke(f, x); });
}
template <range R, class O, class F> constexpr auto transform(R&& r, O out, F f) {
    return std::transform(ranges::begin(r), ranges::end(r), out,
                          [&](const auto& x) -> decltype(auto) { return std::invoke(f, x); });
}
template <range R, class I> constexpr void nth_element(R&& r, I nth) {
    std::nth_element(ranges::begin(r), nth, ranges::end(r));
}
template <range R, class T> constexpr auto upper_bound(R&& r, const T& value) {
    return std::upper_bound(ranges::begin(r), ranges::end(r), value);
}
template <range R, range S> constexpr bool includes(const R& all, const S& some) {
    return std::includes(ranges::begin(all), ranges::end(all), ranges::begin(some),
                         ranges::end(some));
}
template <range R, range S, class F = equal_to, class P = identity, class Q = identity>
constexpr bool equal(const R& a, const S& b, F f = {}, P of_a = {}, Q of_b = {}) {
    return std::equal(ranges::begin(a), ranges::end(a), ranges::begin(b), ranges::end(b),
                      [&](const auto& x, const auto& y) {
                          return std::invoke(f, std::invoke(of_a, x), std::invoke(of_b, y));
                      });
}
template <range R> constexpr auto max(R&& r) {
    return *ranges::max_element(r);
}
template <range R> constexpr auto min(R&& r) {
    return *ranges::min_element(r);
}
template <class T> struct min_max_result { T min, max; };
template <range R, class F = less, class P = identity>
constexpr auto minmax(R&& r, F f = {}, P project = {}) {
    const auto ends =
        std::minmax_element(ranges::begin(r), ranges::end(r), of_range::seen(f, project));
    return min_max_result<iter_value_t<decltype(ends.first)>>{*ends.first, *ends.second};
}

} // namespace ranges
} // namespace std
