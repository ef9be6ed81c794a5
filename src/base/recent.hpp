// SPDX-License-Identifier: MIT
/// What was worked out last, for those who ask for the same again.
#pragma once

#include <cstddef>
#include <deque>
#include <mutex>
#include <optional>
#include <utility>

namespace tidemark::base {

/// The last few entries, each with what it was asked for and what came of it; for several threads.
template <class Entry, std::size_t few> class Recent {
public:
    /// `part` of the first entry for which `same` holds.
    template <class Same, class Value>
    std::optional<Value> find(const Same& same, Value Entry::*part) const {
        const std::lock_guard lock(reading_);
        for (const Entry& e : last_)
            if (same(e))
                return e.*part;
        return std::nullopt;
    }

    void keep(Entry entry) {
        const std::lock_guard lock(reading_);
        last_.push_back(std::move(entry));
        if (last_.size() > few)
            last_.pop_front();
    }

private:
    mutable std::mutex reading_;
    std::deque<Entry> last_;
};

} // namespace tidemark::base
