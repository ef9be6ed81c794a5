// SPDX-License-Identifier: MIT
/// Reads quantities from left to right: sign, number, unit, and further parts.
#include "base/quantity.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "base/units.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

namespace tidemark::base {
namespace {

using enum Dimension;

/// Reads one value from left to right; each step takes its part off the front of `rest`.
class Reader {
public:
    Reader(std::string_view text, Dimension wanted, Dimension other, const std::string& where)
        : shown_(trim(text)), plain_(plain(text)), rest_(plain_), wanted_(wanted), other_(other),
          where_(where) {}

    /// The sum of the parts: "1 lb 4 oz" has two, most values one.
    Quantity read() {
        if (rest_.empty()) {
            throw InputError(where_, "", "is empty", remedy());
        }
        if (plain_.find(',') != std::string::npos) {
            fail("has a comma", "use a decimal point and no thousands separator, as in 2.5");
        }
        double total = 0;
        Dimension dimension = wanted_;
        for (const Unit* last = nullptr; !rest_.empty();) {
            const double sign = take_sign();
            const double value = sign * take_number();
            const Unit* unit = take_unit();
            const bool compound = last || !rest_.empty();
            if (compound && !adds_up(unit->dimension)) {
                fail("has text after the value", remedy());
            }
            if (compound && sign < 0) {
                fail("has a sign in a value of several parts", "write it like 1 lb 4 oz");
            }
            if (last && (unit->dimension != last->dimension || unit->factor >= last->factor)) {
                fail("has parts that do not fall in size", "write it like 1 lb 4 oz");
            }
            total += value * unit->factor + unit->offset;
            last = unit;
            dimension = unit->dimension;
        }
        if (!std::isfinite(total)) {
            fail("is beyond the range of numbers", remedy());
        }
        return {total, dimension};
    }

private:
    [[noreturn]] void fail(const std::string& rule, const std::string& remedy) const {
        throw InputError(where_, shown_, rule, remedy);
    }

    std::string either(std::string_view Wording::*part) const {
        const std::string first{wording(wanted_).*part};
        return wanted_ == other_ ? first : first + " or " + std::string(wording(other_).*part);
    }

    std::string remedy() const {
        if (wanted_ == fraction && where_.find("nitrite") != std::string::npos)
            return "write it as 150 ppm or 150 mg/kg";
        return "write it as " + either(&Wording::example);
    }

    static bool adds_up(Dimension d) {
        return d == length || d == mass || d == volume || d == duration;
    }

    void skip_space() {
        rest_.remove_prefix(std::min(rest_.find_first_not_of(" \t"), rest_.size()));
    }

    double take_sign() {
        const bool negative = rest_.starts_with('-');
        if (negative || rest_.starts_with('+')) {
            rest_.remove_prefix(1);
            skip_space();
        }
        return negative ? -1 : 1;
    }

    static bool starts_number(std::string_view text) {
        text.remove_prefix(text.starts_with('.') ? 1 : 0);
        return !text.empty() && text[0] >= '0' && text[0] <= '9';
    }

    double take_decimal() {
        double value = 0;
        const auto [end, error] = std::from_chars(rest_.begin(), rest_.end(), value);
        if (error == std::errc::result_out_of_range) {
            fail("is beyond the range of numbers", remedy());
        }
        rest_.remove_prefix(end - rest_.begin());
        return value;
    }

    /// "2.5", "1/2" or "1 1/2".
    double take_number() {
        if (same_name(rest_.substr(0, 3), "nan") || same_name(rest_.substr(0, 3), "inf")) {
            fail("is not a finite number", remedy());
        }
        if (!starts_number(rest_)) {
            fail("does not begin with a number", remedy());
        }
        if (same_name(rest_.substr(0, 2), "0x")) {
            fail("is a hexadecimal number", "write it in decimal digits");
        }
        const double whole = take_decimal();
        if (const auto over = take_divisor()) {
            return whole / *over;
        }
        const std::string_view before = rest_;
        if (skip_space(); std::trunc(whole) == whole && starts_number(rest_)) {
            const double top = take_decimal();
            if (const auto over = take_divisor()) {
                return whole + top / *over;
            }
        }
        rest_ = before;
        return whole;
    }

    std::optional<double> take_divisor() {
        if (!rest_.starts_with('/') || !starts_number(rest_.substr(1))) {
            return {};
        }
        rest_.remove_prefix(1);
        const double divisor = take_decimal();
        if (divisor == 0) {
            fail("divides by zero", remedy());
        }
        return divisor;
    }

    const Unit* take_unit() {
        skip_space();
        if (wanted_ == number) {
            if (!rest_.empty()) {
                fail("has text after the number", "write the number alone");
            }
            return find_unit("1", number);
        }
        const Unit* unit = find_unit(rest_, wanted_);
        std::string_view name = rest_;
        if (unit == nullptr) { // perhaps more parts follow
            name = trimmed(rest_.substr(0, rest_.find_first_of("0123456789.+-")));
            unit = find_unit(name, wanted_);
        }
        if (name.empty()) {
            fail(rest_.find_first_of("+-") == 0 ? "has a sign behind the number" : "has no unit",
                 remedy());
        }
        if (unit == nullptr) {
            unknown_unit(where_, shown_, name, wanted_);
        }
        if (unit->dimension != wanted_ && unit->dimension != other_) {
            fail("is " + std::string(wording(unit->dimension).name) + ", not " +
                     either(&Wording::name),
                 remedy());
        }
        rest_.remove_prefix(name.size());
        skip_space();
        return unit;
    }

    static std::string_view trimmed(std::string_view text) {
        return text.substr(0, text.find_last_not_of(" \t") + 1);
    }

    std::string shown_;
    std::string plain_;
    std::string_view rest_;
    Dimension wanted_;
    Dimension other_;
    const std::string& where_;
};

} // namespace

double parse(std::string_view text, Dimension dimension, const std::string& where) {
    return Reader(text, dimension, dimension, where).read().si;
}

Quantity parse_either(std::string_view text, Dimension first, Dimension second,
                      const std::string& where) {
    return Reader(text, first, second, where).read();
}

} // namespace tidemark::base
