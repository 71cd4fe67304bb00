#include "app/exchange/fhir_mailbox.h"

#include <sodium.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <optional>

#include "app/exchange/fhir.h"
#include "app/exchange/seal.h"
#include "app/records/moment.h"

namespace nearpoint {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kCode = "sealed-file";
constexpr std::size_t kLongestInstant = 40;

std::string IdOf(ByteView sealed) {
  constexpr std::string_view kUse = "nearpoint sealed file on a server";
  std::array<std::uint8_t, 24> hash{};
  crypto_generichash(hash.data(), hash.size(), sealed.data(), sealed.size(),
                     reinterpret_cast<const unsigned char*>(kUse.data()), kUse.size());
  std::string text = "np-";
  for (const std::uint8_t byte : hash) {
    char digits[3];
    std::snprintf(digits, sizeof digits, "%02x", byte);
    text += digits;
  }
  return text;
}

// RFC 4648 section 4, as base64Binary of FHIR is.
std::string Encoded(ByteView bytes) {
  constexpr int kVariant = sodium_base64_VARIANT_ORIGINAL;
  std::string text(sodium_base64_encoded_len(bytes.size(), kVariant), '\0');
  sodium_bin2base64(text.data(), text.size(), bytes.data(), bytes.size(), kVariant);
  text.pop_back();  // the terminating zero
  return text;
}

std::optional<Bytes> Decoded(const std::string& text) {
  if (text.empty() || text.size() / 4 * 3 > kMostSealedBytes) return std::nullopt;
  Bytes bytes(text.size() / 4 * 3 + 3);
  std::size_t length = 0;
  const char* end = nullptr;
  // White space is allowed within base64Binary.
  if (sodium_base642bin(bytes.data(), bytes.size(), text.data(), text.size(), " \t\r\n", &length,
                        &end, sodium_base64_VARIANT_ORIGINAL) != 0 ||
      end != text.data() + text.size()) {
    return std::nullopt;
  }
  bytes.resize(length);
  return bytes;
}

// The member, or null where there is none or `json` is no object.
const Json& Member(const Json& json, const char* name) {
  static const Json kNothing;
  const auto found = json.is_object() ? json.find(name) : json.end();
  return json.is_object() && found != json.end() ? *found : kNothing;
}

std::string TextMember(const Json& json, const char* name) {
  const Json& member = Member(json, name);
  return member.is_string() ? member.get<std::string>() : std::string();
}

bool IsSealedFile(const Json& resource) {
  if (TextMember(resource, "resourceType") != "DocumentReference") return false;
  const Json& coding = Member(Member(resource, "type"), "coding");
  return coding.is_array() && std::ranges::any_of(coding, [](const Json& one) {
           return TextMember(one, "system") == kCodeSystem && TextMember(one, "code") == kCode;
         });
}

std::optional<Bytes> FileIn(const Json& resource) {
  const Json& content = Member(resource, "content");
  if (!content.is_array() || content.size() != 1) return std::nullopt;
  return Decoded(TextMember(Member(content.front(), "attachment"), "data"));
}

// Later as text is later in time only where both are written alike, which those of one server are.
void KeepNewest(const Json& resource, std::string& newest) {
  const std::string text = TextMember(Member(resource, "meta"), "lastUpdated");
  if (text.size() <= kLongestInstant && ParseMoment(text.substr(0, 10))) {
    newest = std::max(newest, text);
  }
}

}  // namespace

Json SealedToFhir(ByteView sealed, const std::string& sent) {
  const std::string id = IdOf(sealed);
  const Json type{{"coding", Json::array({{{"system", kCodeSystem}, {"code", kCode}}})},
                  {"text", "Sealed file of nearpoint"}};
  const Json attachment{{"contentType", "application/octet-stream"},
                        {"data", Encoded(sealed)},
                        {"size", sealed.size()},
                        {"title", "Sealed for its recipient; nobody else can read it."}};
  const Json resource{{"resourceType", "DocumentReference"},
                      {"id", id},
                      {"identifier", Json::array({{{"system", kIdentifierSystem}, {"value", id}}})},
                      {"status", "current"},
                      {"type", type},
                      {"date", sent},
                      {"content", Json::array({{{"attachment", attachment}}})}};
  const std::string url = "DocumentReference/" + id;
  return {
      {"resourceType", "Bundle"},
      {"type", "transaction"},
      {"entry",
       Json::array({{{"resource", resource}, {"request", {{"method", "PUT"}, {"url", url}}}}})}};
}

std::string SealedFilesQuery(std::string_view since) {
  // A page holds few, since each may be large.
  std::string query = "DocumentReference?type=" + std::string(kCodeSystem) + "%7C" + kCode +
                      "&_sort=_lastUpdated&_count=10";
  if (since.empty()) return query;
  query += "&_lastUpdated=ge";
  for (const char c : since) query += c == '+' ? std::string("%2B") : std::string(1, c);
  return query;
}

Result<SealedFilesPage> ReadSealedFilesPage(std::string_view reply) {
  const Json json = Json::parse(reply, nullptr, /*allow_exceptions=*/false);
  if (TextMember(json, "resourceType") != "Bundle" || TextMember(json, "type") != "searchset") {
    return Fail(ErrorCode::kBadValue, "The server's answer is no list of FHIR R4.");
  }
  SealedFilesPage page;
  const Json& entries = Member(json, "entry");
  for (const Json& entry : entries.is_array() ? entries : Json::array()) {
    const Json& resource = Member(entry, "resource");
    // A server that does not know the search for a type answers with more.
    if (!IsSealedFile(resource)) continue;
    KeepNewest(resource, page.newest);
    const std::string id = TextMember(resource, "id");
    if (auto sealed = FileIn(resource)) {
      page.files.push_back({id, *std::move(sealed)});
    } else {
      page.unreadable.push_back(id);
    }
  }
  const Json& links = Member(json, "link");
  for (const Json& link : links.is_array() ? links : Json::array()) {
    if (TextMember(link, "relation") == "next") page.next = TextMember(link, "url");
  }
  return page;
}

}  // namespace nearpoint
