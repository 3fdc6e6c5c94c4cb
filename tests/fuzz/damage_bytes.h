#pragma once
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

namespace tearline::fuzz {

inline std::string bytes_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// The files of a folder in the order of their names.
inline std::vector<std::string> files_in(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    std::vector<std::string> result;
    for (const auto& file : files) result.push_back(bytes_of(file));
    return result;
}

/// Changes, drops, doubles and splices bytes at one to four random places.
inline std::string damaged(std::string bytes, std::mt19937& random,
                           const std::vector<std::string>& scraps) {
    const auto pick = [&](std::size_t below) {
        return std::uniform_int_distribution<std::size_t>(0, below - 1)(random);
    };
    for (std::size_t change = 1 + pick(4); change > 0 && !bytes.empty(); --change) {
        const std::size_t at = pick(bytes.size());
        switch (pick(5)) {
            case 0:
                bytes[at] = static_cast<char>(pick(256));
                break;
            case 1:
                bytes.erase(at, 1 + pick(20));
                break;
            case 2:
                bytes.insert(at, scraps[pick(scraps.size())]);
                break;
            case 3:
                bytes.insert(at, bytes.substr(pick(bytes.size()), 1 + pick(200)));
                break;
            default:
                bytes.replace(at, std::min<std::size_t>(1, bytes.size() - at),
                              scraps[pick(scraps.size())]);
        }
    }
    return bytes;
}

}  // namespace tearline::fuzz
