// SPDX-License-Identifier: MIT
/// A notebook of its own, gone at the end.
#pragma once

#include "inference/notebook.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace tidemark::test {

class Scratch {
public:
    Scratch() {
        std::string name = (std::filesystem::temp_directory_path() / "tidemark-XXXXXX").string();
        folder_ = mkdtemp(name.data());
    }
    ~Scratch() { std::filesystem::remove_all(folder_); }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;

    std::string path() const { return (folder_ / "shop.csv").string(); }
    std::string bytes() const {
        std::ifstream in(path(), std::ios::binary);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    void put(const std::string& text) const { std::ofstream(path(), std::ios::binary) << text; }
    inference::Notebook read() const { return inference::read_notebook(path(), "--notebook"); }
    void add(const inference::Batch& batch) const {
        inference::append(path(), "--notebook", batch);
    }
    void change(const inference::Batch& old, const inference::Batch* instead = nullptr) const {
        inference::replace(path(), "--notebook", old, instead);
    }

private:
    std::filesystem::path folder_;
};

} // namespace tidemark::test
