// SPDX-License-Identifier: MIT
/// Stands in for Boost.Program_options in the WebAssembly build: that library has to be compiled,
/// and its sources are no Debian package. The few classes and the one style of flags `cli` uses,
/// and no more; a test asks the same of both builds.
#pragma once

#include <boost/algorithm/string/trim.hpp>
#include <boost/token_functions.hpp>
#include <boost/tokenizer.hpp>

#include <algorithm>
#include <istream>
#include <memory>
#include <ostream>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace boost::program_options {

/// What a flag takes: one word, or none for a switch.
class value_semantic {
public:
    explicit value_semantic(unsigned tokens) : tokens_(tokens) {}
    value_semantic* value_name(const std::string& name) {
        name_ = name;
        return this;
    }
    unsigned max_tokens() const { return tokens_; }
    const std::string& name() const { return name_; }

private:
    unsigned tokens_;
    std::string name_;
};
template <class T> value_semantic* value() {
    return new value_semantic(1);
}
inline value_semantic* bool_switch() {
    return new value_semantic(0);
}

class option_description {
public:
    option_description(std::string name, value_semantic* semantic, std::string text)
        : name_(std::move(name)), semantic_(semantic), text_(std::move(text)) {}
    const std::string& long_name() const { return name_; }
    const std::shared_ptr<value_semantic>& semantic() const { return semantic_; }
    const std::string& description() const { return text_; }

private:
    std::string name_;
    std::shared_ptr<value_semantic> semantic_;
    std::string text_;
};

class options_description {
public:
    class Add {
    public:
        explicit Add(options_description& to) : to_(to) {}
        Add& operator()(const char* name, value_semantic* semantic, const char* text) {
            to_.add(std::make_shared<option_description>(name, semantic, text));
            return *this;
        }

    private:
        options_description& to_;
    };

    options_description() = default;
    explicit options_description(unsigned, unsigned = 0) {}
    options_description(std::string title, unsigned, unsigned) : title_(std::move(title)) {}
    Add add_options() { return Add(*this); }
    options_description& add(const std::shared_ptr<option_description>& option) {
        options_.push_back(option);
        return *this;
    }
    options_description& add(const options_description& group) {
        options_.insert(options_.end(), group.options_.begin(), group.options_.end());
        return *this;
    }
    const std::vector<std::shared_ptr<option_description>>& options() const { return options_; }
    const option_description* find_nothrow(const std::string& name, bool) const {
        const auto found = std::find_if(options_.begin(), options_.end(),
                                        [&](const auto& o) { return o->long_name() == name; });
        return found == options_.end() ? nullptr : found->get();
    }

private:
    std::string title_;
    std::vector<std::shared_ptr<option_description>> options_;
};

inline std::ostream& operator<<(std::ostream& out, const options_description& flags) {
    for (const auto& o : flags.options())
        out << "  --" << o->long_name() << ' ' << o->semantic()->name() << "  " << o->description()
            << '\n';
    return out;
}

class error : public std::logic_error {
public:
    using std::logic_error::logic_error;
};
class invalid_syntax : public error {
public:
    enum kind_t { missing_parameter, extra_parameter };
    invalid_syntax(kind_t kind, const std::string& flag) : error(flag), kind_(kind) {}
    std::string get_option_name() const { return what(); }
    kind_t kind() const { return kind_; }

private:
    kind_t kind_;
};

struct option {
    std::string string_key;
    int position_key = -1;
    std::vector<std::string> value, original_tokens;
    bool unregistered = false;
};
struct parsed_options {
    std::vector<option> options;
};

namespace command_line_style {
enum style_t { allow_long = 1, long_allow_adjacent = 4, long_allow_next = 8 };
}

/// Reads "--name value" and "--name=value"; other words are positional.
class command_line_parser {
public:
    explicit command_line_parser(const std::vector<std::string>& words) : words_(words) {}
    command_line_parser& options(const options_description& flags) {
        flags_ = flags;
        return *this;
    }
    command_line_parser& style(int) { return *this; }
    command_line_parser& allow_unregistered() { return *this; }

    parsed_options run() const {
        parsed_options out;
        int positional = 0;
        bool only_words = false;
        for (std::size_t k = 0; k < words_.size(); ++k) {
            const std::string& word = words_[k];
            if (!only_words && word == "--") {
                only_words = true;
                continue;
            }
            out.options.emplace_back();
            option& o = out.options.back();
            o.original_tokens = {word};
            if (only_words || word.rfind("--", 0) != 0) {
                o.position_key = positional++;
                o.value = {word};
                continue;
            }
            const std::size_t sign = word.find('=');
            o.string_key = word.substr(2, sign == std::string::npos ? sign : sign - 2);
            const option_description* known = flags_.find_nothrow(o.string_key, false);
            o.unregistered = !known;
            const bool takes = known && known->semantic()->max_tokens() > 0;
            if (sign != std::string::npos) {
                o.value = {word.substr(sign + 1)};
                if (o.value[0].empty())
                    throw invalid_syntax(invalid_syntax::missing_parameter, "--" + o.string_key);
                if (known && !takes)
                    throw invalid_syntax(invalid_syntax::extra_parameter, "--" + o.string_key);
            } else if (takes) {
                if (++k == words_.size())
                    throw invalid_syntax(invalid_syntax::missing_parameter, "--" + o.string_key);
                o.value = {words_[k]};
            }
        }
        return out;
    }

private:
    std::vector<std::string> words_;
    options_description flags_;
};

/// Lines "name = value"; what stands behind # is a comment.
inline parsed_options parse_config_file(std::istream& in, const options_description& flags, bool) {
    parsed_options out;
    for (std::string line; std::getline(in, line);) {
        line = trim_copy(line.substr(0, line.find('#')));
        if (line.empty())
            continue;
        const std::size_t sign = line.find('=');
        if (sign == std::string::npos)
            throw error(line);
        option o;
        o.string_key = trim_copy(line.substr(0, sign));
        o.value = {trim_copy(line.substr(sign + 1))};
        o.unregistered = !flags.find_nothrow(o.string_key, false);
        out.options.push_back(o);
    }
    return out;
}

/// The words of a line, as a shell would part them.
inline std::vector<std::string> split_unix(const std::string& line) {
    const escaped_list_separator<char> parts("\\", " \t", "'\"");
    const tokenizer<escaped_list_separator<char>> words(line, parts);
    std::vector<std::string> out;
    for (const std::string& word : words)
        if (!word.empty())
            out.push_back(word);
    return out;
}

} // namespace boost::program_options
