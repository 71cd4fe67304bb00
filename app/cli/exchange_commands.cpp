#include "app/cli/exchange_commands.h"

#include <sodium.h>

#include <filesystem>
#include <nlohmann/json.hpp>
#include <utility>

#include "app/cli/card_picture.h"
#include "app/cli/console.h"
#include "app/cli/print_json.h"
#include "app/cli/utc_now.h"
#include "app/exchange/key_store.h"
#include "app/exchange/seal.h"
#include "app/records/atomic_file.h"
#include "app/records/exercise_plan_json.h"
#include "app/records/session_json.h"
#include "calibration/json_fields.h"

namespace nearpoint {
namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

Result<KeyStore> StoreOf(const std::optional<std::string>& folder) {
  if (folder) return KeyStore(*folder);
  auto usual = KeyStore::UsualFolder();
  if (!usual) return tl::unexpected(usual.error());
  return KeyStore(*std::move(usual));
}

Json CardJson(const std::string& name, const Card& card) {
  return {{"name", name}, {"card", ToText(card)}, {"fingerprint", Fingerprint(card)}};
}

Result<Card> CardFrom(const std::string& text) {
  if (!text.starts_with('@')) return ParseCard(text);
  return CardInFile(text.substr(1));
}

Result<void> PrintCard(const KeysArguments& arguments, const std::string& name, const Card& card) {
  if (arguments.qr) {
    if (auto written = WriteCardPicture(*arguments.qr, card); !written) return written;
  }
  return PrintJson(CardJson(name, card));
}

// Sessions and plans are read before they are sent: what the recipient could not use is not worth a
// journey.
Result<PackageItem> ItemOf(const std::string& file) {
  auto text = ReadTextFile(file);
  if (!text) return tl::unexpected(text.error());
  const auto json = ParseJson(*text, file);
  if (json && CheckSchema(*json, "exercise-plan", file)) {
    if (const auto plan = ParseExercisePlan(*text, file); !plan) {
      return tl::unexpected(plan.error());
    }
    return PackageItem{ItemKind::kPlan, fs::path(file).filename().string(), *std::move(text)};
  }
  if (const auto session = ParseSessionTrials(*text, file); !session) {
    return tl::unexpected(session.error());
  }
  return PackageItem{ItemKind::kSession, fs::path(file).filename().string(), *std::move(text)};
}

Json Listing(const Package& package) {
  Json json;
  json["id"] = ToBase64(package.id.data(), package.id.size());
  json["made_at"] = package.made_at;
  json["inside"] = DescribePackage(package);
  return json;
}

// All items or none: a name that is taken ends it before the first is written.
Result<void> WriteItems(const Package& package, const std::string& folder) {
  std::error_code code;
  fs::create_directories(folder, code);
  if (code) {
    return Fail(ErrorCode::kNotWritable, folder + ": cannot be made: " + code.message() + ".");
  }
  for (const PackageItem& item : package.items) {
    if (!fs::exists(fs::path(folder) / item.name, code)) continue;
    return Fail(ErrorCode::kBadValue, (fs::path(folder) / item.name).string() +
                                          ": is there already; nothing was written. Choose another "
                                          "folder.");
  }
  for (const PackageItem& item : package.items) {
    auto written =
        WriteFileAtomically((fs::path(folder) / item.name).string(), item.content, Readers::kOwner);
    if (!written) return written;
  }
  return {};
}

}  // namespace

Result<void> RunKeysNew(const KeysArguments& arguments) {
  const auto store = StoreOf(arguments.folder);
  if (!store) return tl::unexpected(store.error());
  const auto keys = store->Create(arguments.name);
  if (!keys) return tl::unexpected(keys.error());
  Say("The secret keys are in " + store->folder() +
      ", for this user alone and not encrypted: keep a copy in a safe place, and give them to "
      "nobody.");
  return PrintCard(arguments, keys->name, keys->identity.card());
}

Result<void> RunKeysShow(const KeysArguments& arguments) {
  const auto store = StoreOf(arguments.folder);
  if (!store) return tl::unexpected(store.error());
  const auto keys = store->Load();
  if (!keys) return tl::unexpected(keys.error());
  return PrintCard(arguments, keys->name, keys->identity.card());
}

Result<void> RunKeysAdd(const KeysArguments& arguments) {
  const auto store = StoreOf(arguments.folder);
  if (!store) return tl::unexpected(store.error());
  const auto card = CardFrom(arguments.card);
  if (!card) return tl::unexpected(card.error());
  if (auto added = store->AddContact(arguments.name, *card); !added) return added;
  Say("Have \"" + arguments.name +
      "\" read out their fingerprint, by telephone or face to face, and compare it with this one: "
      "only then it is certain whose card it is.");
  return PrintJson(CardJson(arguments.name, *card));
}

Result<void> RunKeysRemove(const KeysArguments& arguments) {
  const auto store = StoreOf(arguments.folder);
  if (!store) return tl::unexpected(store.error());
  return store->RemoveContact(arguments.name);
}

Result<void> RunKeysList(const KeysArguments& arguments) {
  const auto store = StoreOf(arguments.folder);
  if (!store) return tl::unexpected(store.error());
  const auto contacts = store->Contacts();
  if (!contacts) return tl::unexpected(contacts.error());
  Json json = Json::array();
  for (const Contact& contact : *contacts) json.push_back(CardJson(contact.name, contact.card));
  return PrintJson(json);
}

Result<void> RunSeal(const SealArguments& arguments) {
  Package package;
  package.made_at = UtcNow();
  for (const std::string& file : arguments.files) {
    auto item = ItemOf(file);
    if (!item) return tl::unexpected(item.error());
    package.items.push_back(*std::move(item));
  }
  if (auto checked = CheckPackage(package); !checked) return checked;
  if (arguments.list_only) return PrintJson(Listing(package));

  const auto store = StoreOf(arguments.folder);
  if (!store) return tl::unexpected(store.error());
  const auto keys = store->Load();
  if (!keys) return tl::unexpected(keys.error());
  const auto recipient = arguments.to.starts_with("nearpoint-card-")
                             ? ParseCard(arguments.to)
                             : store->FindContact(arguments.to);
  if (!recipient) return tl::unexpected(recipient.error());
  package.from = keys->name;
  randombytes_buf(package.id.data(), package.id.size());
  const auto file = Seal(package, keys->identity, *recipient);
  if (!file) return tl::unexpected(file.error());
  if (auto written = WriteFileAtomically(arguments.out, TextOf(*file)); !written) return written;
  Json json = Listing(package);
  json["to"] = Fingerprint(*recipient);
  json["file"] = arguments.out;
  json["bytes"] = file->size();
  return PrintJson(json);
}

Result<void> RunUnseal(const UnsealArguments& arguments) {
  const auto store = StoreOf(arguments.folder);
  if (!store) return tl::unexpected(store.error());
  const auto keys = store->Load();
  if (!keys) return tl::unexpected(keys.error());
  std::error_code code;
  if (fs::is_regular_file(arguments.file, code) &&
      fs::file_size(arguments.file, code) > kMostSealedBytes) {
    return Fail(ErrorCode::kBadValue,
                arguments.file + ": is larger than a sealed file may be; it was not opened.");
  }
  const auto text = ReadTextFile(arguments.file);
  if (!text) return tl::unexpected(text.error());
  const auto opened = Unseal(ViewOf(*text), keys->identity);
  if (!opened) return Fail(opened.error().code, arguments.file + ": " + opened.error().message);
  const auto name = store->NameOf(opened->sender);
  if (!name) return tl::unexpected(name.error());
  if (!*name && arguments.out && !arguments.accept_unknown) {
    return Fail(ErrorCode::kMismatch,
                arguments.file + ": is whole, but its sender is not known; their fingerprint is " +
                    Fingerprint(opened->sender) +
                    ". Match it to a person and add their card, or open it with --accept-unknown.");
  }
  if (arguments.out) {
    if (auto written = WriteItems(opened->package, *arguments.out); !written) return written;
  }
  Json json = Listing(opened->package);
  json["from"] = CardJson(*name ? **name : opened->package.from, opened->sender);
  json["from"]["known"] = name->has_value();
  json["folder"] = nullptr;
  if (arguments.out) json["folder"] = *arguments.out;
  return PrintJson(json);
}

}  // namespace nearpoint
