// The keys of a station's events: drawn by the station that began the event, handed to the others
// over the server, destroyed with the event. event_seal.h says what they are for.
#pragma once

#include <QString>
#include <map>

#include "app/event_store/event_seal.h"
#include "app/event_store/event_store.h"

namespace nearpoint {

// Of the events that this station can open, by the event's id.
using EventKeys = std::map<QString, std::string>;
[[nodiscard]] Result<EventKeys> KeysHere(const EventStore& store);

// Draws the key of each event that this station began and that has none.
[[nodiscard]] Result<void> DrawKeys(EventStore& store);
// This station's own pair, drawn where there is none.
[[nodiscard]] Result<StationKeys> StationKeysOf(EventStore& store);

// Hands the keys of this station to every other that has signed in and lacks them, and takes those
// that others left for this one. Call after signing in.
[[nodiscard]] Result<void> ExchangeKeys(EventStore& store, const EventDatabase& server);

// The key of the event, and this station's own pair with it: what was sealed for it on the way
// cannot be opened any more. Part of the transaction that deletes the event's records.
[[nodiscard]] Result<void> DestroyKeys(const EventDatabase& database, const QString& event);

// A row as kRecordColumns has it, and the text of a session, sealed or opened in place. Rows that
// are so already stay. False: the event's key is not here. kMismatch: it cannot be opened.
[[nodiscard]] Result<bool> SealRecord(QVariantList& row, const EventKeys& keys);
[[nodiscard]] Result<bool> OpenRecord(QVariantList& row, const EventKeys& keys);
[[nodiscard]] Result<bool> SealSession(QVariant& body, const QString& record, const QString& event,
                                       const EventKeys& keys);
[[nodiscard]] Result<bool> OpenSession(QVariant& body, const QString& record, const QString& event,
                                       const EventKeys& keys);

// Opens the rows that came before their key. Returns the number of events that are still locked.
[[nodiscard]] Result<int> OpenWhatCameBefore(EventStore& store);

}  // namespace nearpoint
