#include "models/sha256.h"

#include <openssl/evp.h>

#include <array>
#include <filesystem>
#include <fstream>
#include <memory>
#include <vector>

namespace nearpoint {

Result<std::string> Sha256OfFile(const std::string& file) {
  std::error_code ignored;
  if (!std::filesystem::exists(file, ignored))
    return Fail(ErrorCode::kNotFound, file + ": no such file.");
  std::ifstream in(file, std::ios::binary);
  const std::unique_ptr<EVP_MD_CTX, decltype(&EVP_MD_CTX_free)> context(EVP_MD_CTX_new(),
                                                                        &EVP_MD_CTX_free);
  if (!in || !context || EVP_DigestInit_ex(context.get(), EVP_sha256(), nullptr) != 1) {
    return Fail(ErrorCode::kUnreadable, file + ": the file cannot be read.");
  }
  std::vector<char> block(1 << 20);
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())), in.gcount() > 0) {
    EVP_DigestUpdate(context.get(), block.data(), static_cast<std::size_t>(in.gcount()));
  }
  if (in.bad()) return Fail(ErrorCode::kUnreadable, file + ": the file cannot be read to its end.");
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned int size = 0;
  EVP_DigestFinal_ex(context.get(), digest.data(), &size);
  static constexpr char kDigits[] = "0123456789abcdef";
  std::string text;
  for (unsigned int i = 0; i < size; ++i) {
    text += kDigits[digest[i] >> 4];
    text += kDigits[digest[i] & 15];
  }
  return text;
}

}  // namespace nearpoint
