// The keys on disk: one's own secret ones, and the cards of others.
//
// A folder of its own, open to this user alone (0700), with two files open to this user alone
// (0600): identity.json (schema "nearpoint/identity/1"), contacts.json ("nearpoint/contacts/1").
// The secret keys are not encrypted on disk: who can read this user's files can read them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/exchange/keys.h"
#include "vision/core/result.h"

namespace nearpoint {

struct Contact {
  std::string name;
  Card card;
};

struct OwnKeys {
  std::string name;  // what one calls oneself to others
  Identity identity;
};

class KeyStore {
 public:
  explicit KeyStore(std::string folder) : folder_(std::move(folder)) {}

  // $XDG_CONFIG_HOME/nearpoint/keys, else ~/.config/nearpoint/keys. kNotFound without a home.
  [[nodiscard]] static Result<std::string> UsualFolder();

  // Draws and stores. kBadValue where there are keys already: replacing them would lock out every
  // file that is under way. Errors of writing besides.
  [[nodiscard]] Result<OwnKeys> Create(const std::string& name) const;
  // kNotFound where there are none; kBadValue for a damaged file, and for one that others may read.
  [[nodiscard]] Result<OwnKeys> Load() const;

  [[nodiscard]] Result<std::vector<Contact>> Contacts() const;
  // kBadValue for a name that is taken by another card, or a card known under another name.
  [[nodiscard]] Result<void> AddContact(const std::string& name, const Card& card) const;
  // kNotFound for an unknown name.
  [[nodiscard]] Result<void> RemoveContact(const std::string& name) const;
  [[nodiscard]] Result<Card> FindContact(const std::string& name) const;
  // Whose card it is; absent when nobody's.
  [[nodiscard]] Result<std::optional<std::string>> NameOf(const Card& card) const;

  [[nodiscard]] const std::string& folder() const { return folder_; }

 private:
  [[nodiscard]] Result<void> MakeFolder() const;
  [[nodiscard]] Result<void> WriteContacts(const std::vector<Contact>& contacts) const;
  [[nodiscard]] std::string IdentityFile() const { return folder_ + "/identity.json"; }
  [[nodiscard]] std::string ContactsFile() const { return folder_ + "/contacts.json"; }
  std::string folder_;
};

}  // namespace nearpoint
