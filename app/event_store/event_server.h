// How a station reaches the server of its event: the address, the certificate that the server must
// show, and the password. All three come in one file that the server's laptop wrote.
#pragma once

#include <QString>

#include "app/event_store/event_store.h"

namespace nearpoint {

// What the station's settings and the files beside its own say. Files that are not there are empty.
[[nodiscard]] ServerAccess AccessOf(const EventStore& store);

// file: as `sh app/event-server start` wrote it (schema "nearpoint/event-server/1": address,
// password, certificate). Puts certificate and password beside the station's file, readable by
// their owner alone, and sets the server. Errors: kNotFound, kBadValue (the file), kNotWritable.
[[nodiscard]] Result<void> JoinServer(EventStore& store, const QString& file);

// A server that brought no such file: its address ("" to work alone), and the file with the
// certificate of who vouches for it, where it is another machine ("" for none). The password then
// comes from libpq's own places (PGPASSFILE, ~/.pgpass). What an earlier join left is removed.
[[nodiscard]] Result<void> SetServer(EventStore& store, const QString& address,
                                     const QString& certificate_file);

}  // namespace nearpoint
