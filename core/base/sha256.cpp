#include "core/base/sha256.h"

#include <openssl/evp.h>

#include <array>
#include <new>
#include <stdexcept>

namespace tearline {

namespace {

const EVP_MD* algorithm() {
    static const EVP_MD* const fetched = EVP_MD_fetch(nullptr, "SHA2-256", nullptr);
    if (fetched == nullptr)
        throw std::runtime_error("SHA-256 is not available in this machine's OpenSSL");
    return fetched;
}

}  // namespace

std::string sha256_hex(std::string_view bytes) {
    std::array<unsigned char, 32> digest{};
    // Once the algorithm is at hand, memory is all that can be lacking.
    if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), nullptr, algorithm(), nullptr) != 1)
        throw std::bad_alloc();
    std::string hex;
    hex.reserve(2 * digest.size());
    for (const unsigned char byte : digest) {
        hex += "0123456789abcdef"[byte >> 4];
        hex += "0123456789abcdef"[byte & 15];
    }
    return hex;
}

}  // namespace tearline
