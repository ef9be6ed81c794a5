// SPDX-License-Identifier: MIT
/// What has to be told about a cure besides its numbers: dangers first, then warnings, then what
/// always holds. Data, not layout: every command judges by the same rules and every output shows
/// them.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

namespace tidemark::judge {

enum class Severity {
    danger,  ///< can harm people, or is against the law
    warning, ///< can harm people in this case
    note,    ///< what the model leaves out, or what is worth knowing
    caution  ///< can harm people, always
};

/// One thing to tell. `code` names the rule ("over-limit"), the same in every command.
struct Finding {
    Severity severity = Severity::warning;
    std::string code;
    std::string text;
    bool aside = false; ///< told where more is asked for
};

/// Findings in the order they were made, no text twice.
class Findings {
public:
    void add(Severity severity, const std::string& code, const std::string& text,
             bool aside = false) {
        if (!text.empty() && !has_text(text))
            list_.push_back({severity, code, text, aside});
    }
    void danger(const std::string& code, const std::string& text) {
        add(Severity::danger, code, text);
    }
    void warn(const std::string& code, const std::string& text) {
        add(Severity::warning, code, text);
    }
    /// What the model leaves out, or what is behind a finding: told where more is asked for.
    void note(const std::string& text) { note("model", text); }
    void note(const std::string& code, const std::string& text) {
        add(Severity::note, code, text, true);
    }
    /// Worth knowing in any case, and harms nobody.
    void tell(const std::string& code, const std::string& text) { add(Severity::note, code, text); }
    void caution(const std::string& text) { add(Severity::caution, "caution", text); }
    void add(const Findings& others) {
        for (const Finding& f : others.list_)
            add(f.severity, f.code, f.text, f.aside);
    }
    /// As add(), but what was found by the same rule before gives way.
    void supersede(const Findings& others) {
        for (const Finding& f : others.list_)
            std::erase_if(list_, [&](const Finding& mine) { return mine.code == f.code; });
        add(others);
    }

    /// The texts of one severity, and for warnings() the notes among them.
    std::vector<std::string> texts(Severity severity) const {
        std::vector<std::string> list;
        for (const Finding& f : list_)
            if (f.severity == severity)
                list.push_back(f.text);
        return list;
    }
    std::vector<std::string> dangers() const { return texts(Severity::danger); }
    std::vector<std::string> warnings() const {
        std::vector<std::string> list;
        for (const Finding& f : list_)
            if (f.severity == Severity::warning || f.severity == Severity::note)
                list.push_back(f.text);
        return list;
    }
    std::vector<std::string> cautions() const { return texts(Severity::caution); }
    bool has(const std::string& code) const {
        return std::ranges::find(list_, code, &Finding::code) != list_.end();
    }
    const std::vector<Finding>& all() const { return list_; }

private:
    bool has_text(const std::string& text) const {
        return std::ranges::find(list_, text, &Finding::text) != list_.end();
    }
    std::vector<Finding> list_;
};

} // namespace tidemark::judge
