#include "app/exchange/key_store.h"

#include <sodium.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <system_error>

#include "app/records/atomic_file.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

constexpr std::size_t kLongestName = 100;

Result<void> CheckName(const std::string& name) {
  const bool printable =
      std::ranges::none_of(name, [](unsigned char c) { return c < 0x20 || c == 0x7f; });
  if (!name.empty() && name.size() <= kLongestName && printable) return {};
  return Fail(ErrorCode::kBadValue,
              "A name of 1 to 100 characters is expected, without line breaks.");
}

// Secrets that others can read are no secrets; better to say so than to use them.
Result<void> CheckOwnerOnly(const std::string& file) {
  struct stat status {};
  if (stat(file.c_str(), &status) != 0 || (status.st_mode & 077) == 0) return {};
  return Fail(ErrorCode::kBadValue,
              file +
                  ": others may read it; expected a file for its owner alone (chmod 600). If "
                  "others could have read it, make new keys.");
}

bool Exists(const std::string& file) {
  std::error_code ignored;
  return std::filesystem::exists(file, ignored);
}

Identity::Seed ReadSeed(JsonFields& fields, const char* name) {
  Identity::Seed seed{};
  std::string text = fields.Text(name, "a key of 43 characters");
  if (fields.ok() && !FromBase64(text, seed.data(), seed.size())) {
    // The value is a secret, damaged or not: it does not go into the message.
    fields.Refuse(std::string(name) + " (its value is not shown)", "a key of 43 characters");
  }
  sodium_memzero(text.data(), text.size());
  return seed;
}

}  // namespace

Result<std::string> KeyStore::UsualFolder() {
  const char* config = std::getenv("XDG_CONFIG_HOME");
  if (config != nullptr && config[0] == '/') return std::string(config) + "/nearpoint/keys";
  const char* home = std::getenv("HOME");
  if (home != nullptr && home[0] == '/') return std::string(home) + "/.config/nearpoint/keys";
  return Fail(ErrorCode::kNotFound,
              "The user's home folder is not known; name the folder of the keys with --keys.");
}

Result<void> KeyStore::MakeFolder() const {
  std::error_code code;
  std::filesystem::create_directories(std::filesystem::path(folder_).parent_path(), code);
  if (mkdir(folder_.c_str(), 0700) == 0) return {};
  const int reason = errno;
  if (reason == EEXIST && std::filesystem::is_directory(folder_, code)) return {};
  return Fail(ErrorCode::kNotWritable, folder_ + ": the folder of the keys cannot be made: " +
                                           std::generic_category().message(reason) + ".");
}

Result<OwnKeys> KeyStore::Create(const std::string& name) const {
  if (auto good = CheckName(name); !good) return tl::unexpected(good.error());
  if (Exists(IdentityFile())) {
    return Fail(ErrorCode::kBadValue,
                IdentityFile() +
                    ": there are keys already; with new ones, files sent to the old "
                    "ones could not be opened any more.");
  }
  if (auto made = MakeFolder(); !made) return tl::unexpected(made.error());
  OwnKeys keys{name, Identity::Draw()};
  nlohmann::ordered_json json;
  json["schema"] = "nearpoint/identity/1";
  json["name"] = name;
  json["sign_secret"] =
      ToBase64(keys.identity.sign_seed().data(), keys.identity.sign_seed().size());
  json["box_secret"] = ToBase64(keys.identity.box_seed().data(), keys.identity.box_seed().size());
  if (auto written = WriteFileAtomically(IdentityFile(), json.dump(2) + "\n", Readers::kOwner);
      !written) {
    return tl::unexpected(written.error());
  }
  return keys;
}

Result<OwnKeys> KeyStore::Load() const {
  if (!Exists(IdentityFile())) {
    return Fail(ErrorCode::kNotFound,
                folder_ + ": there are no keys yet; make them with nearpoint keys new.");
  }
  if (auto own = CheckOwnerOnly(IdentityFile()); !own) return tl::unexpected(own.error());
  const auto text = ReadTextFile(IdentityFile());
  if (!text) return tl::unexpected(text.error());
  const auto document = ParseJson(*text, IdentityFile());
  if (!document) return tl::unexpected(document.error());
  if (auto schema = CheckSchema(*document, "identity", IdentityFile()); !schema) {
    return tl::unexpected(schema.error());
  }
  JsonFields fields(*document, IdentityFile());
  std::string name = fields.Text("name", "a name");
  Identity::Seed sign = ReadSeed(fields, "sign_secret");
  Identity::Seed box = ReadSeed(fields, "box_secret");
  if (!fields.ok()) return tl::unexpected(*fields.error());
  OwnKeys keys{std::move(name), Identity::FromSeeds(sign, box)};
  sodium_memzero(sign.data(), sign.size());
  sodium_memzero(box.data(), box.size());
  return keys;
}

Result<std::vector<Contact>> KeyStore::Contacts() const {
  std::vector<Contact> contacts;
  if (!Exists(ContactsFile())) return contacts;
  const auto text = ReadTextFile(ContactsFile());
  if (!text) return tl::unexpected(text.error());
  const auto document = ParseJson(*text, ContactsFile());
  if (!document) return tl::unexpected(document.error());
  if (auto schema = CheckSchema(*document, "contacts", ContactsFile()); !schema) {
    return tl::unexpected(schema.error());
  }
  JsonFields fields(*document, ContactsFile());
  const nlohmann::json& list = fields.Array("contacts");
  if (!fields.ok()) return tl::unexpected(*fields.error());
  for (const nlohmann::json& entry : list) {
    JsonFields contact(entry, ContactsFile(), "contacts[" + std::to_string(contacts.size()) + "].");
    std::string name = contact.Text("name", "a name");
    const auto card = ParseCard(contact.Text("card", "a card"));
    if (contact.ok() && !card) contact.Refuse("card", "a card as nearpoint keys show prints it");
    if (!contact.ok()) return tl::unexpected(*contact.error());
    contacts.push_back({std::move(name), *card});
  }
  return contacts;
}

Result<void> KeyStore::WriteContacts(const std::vector<Contact>& contacts) const {
  nlohmann::ordered_json json;
  json["schema"] = "nearpoint/contacts/1";
  json["contacts"] = nlohmann::ordered_json::array();
  for (const Contact& contact : contacts) {
    json["contacts"].push_back({{"name", contact.name}, {"card", ToText(contact.card)}});
  }
  if (auto made = MakeFolder(); !made) return made;
  constexpr auto kReplace = nlohmann::ordered_json::error_handler_t::replace;
  return WriteFileAtomically(ContactsFile(), json.dump(2, ' ', false, kReplace) + "\n",
                             Readers::kOwner);
}

Result<void> KeyStore::AddContact(const std::string& name, const Card& card) const {
  if (auto good = CheckName(name); !good) return good;
  auto contacts = Contacts();
  if (!contacts) return tl::unexpected(contacts.error());
  for (const Contact& contact : *contacts) {
    if (contact.name == name && contact.card == card) return {};
    if (contact.name == name) {
      return Fail(ErrorCode::kBadValue,
                  '"' + name +
                      "\" is known with another card; remove it first if the keys really "
                      "changed.");
    }
    if (contact.card == card) {
      return Fail(ErrorCode::kBadValue, "This card is known already, as \"" + contact.name + "\".");
    }
  }
  contacts->push_back({name, card});
  return WriteContacts(*contacts);
}

Result<void> KeyStore::RemoveContact(const std::string& name) const {
  auto contacts = Contacts();
  if (!contacts) return tl::unexpected(contacts.error());
  if (std::erase_if(*contacts, [&name](const Contact& c) { return c.name == name; }) == 0) {
    return Fail(ErrorCode::kNotFound, "Nobody is known as \"" + name + "\".");
  }
  return WriteContacts(*contacts);
}

Result<Card> KeyStore::FindContact(const std::string& name) const {
  const auto contacts = Contacts();
  if (!contacts) return tl::unexpected(contacts.error());
  std::string known;
  for (const Contact& contact : *contacts) {
    if (contact.name == name) return contact.card;
    known += (known.empty() ? "" : ", ") + contact.name;
  }
  return Fail(ErrorCode::kNotFound, "Nobody is known as \"" + name + "\"; known are: " +
                                        (known.empty() ? "nobody" : known) + ".");
}

Result<std::optional<std::string>> KeyStore::NameOf(const Card& card) const {
  const auto contacts = Contacts();
  if (!contacts) return tl::unexpected(contacts.error());
  for (const Contact& contact : *contacts) {
    if (contact.card == card) return contact.name;
  }
  return std::nullopt;
}

}  // namespace nearpoint
