
#include "app/cli/console.h"
#include "app/cli/print_json.h"
#include "app/event/totals.h"
#include "app/event_cli/event_commands.h"
#include "app/event_export/export_event.h"
#include "app/event_export/letters_pdf.h"
#include "app/event_export/wristbands_pdf.h"
#include "app/event_store/event_delete.h"
#include "app/event_store/event_server.h"
#include "app/records/atomic_file.h"
#include "app/records/json_number.h"

namespace nearpoint {
namespace {

OrderedJson TotalsToJson(const Totals& totals, const EventState& state) {
  OrderedJson json;
  json["schema"] = "nearpoint/event-numbers/1";
  json["event"] = state.event.name;
  json["day"] = state.event.day;
  json["listed"] = totals.listed;
  json["measured"] = totals.measured;
  json["needs_looking_after"] = totals.look_after;
  json["needs_looking_after_measured"] = totals.look_after_measured;
  json["within"] = totals.within;
  json["see_a_professional"] = totals.see_professional;
  json["measure_again"] = totals.again;
  json["without_a_number"] = totals.no_number;
  json["waiting"] = totals.waiting;
  json["paused"] = totals.paused;
  json["measuring"] = totals.measuring;
  json["absent"] = totals.absent;
  json["unable"] = totals.unable;
  json["declined"] = totals.declined;
  json["sent_on_before_measuring"] = totals.caution;
  json["consent_refused"] = totals.refused;
  json["consent_not_asked"] = totals.not_asked;
  json["measured_twice_unseen"] = totals.conflicts;
  json["undone"] = totals.undone;
  json["by_the_eyes_alone"] = totals.by_eyes;
  json["trials"] = totals.trials;
  json["trials_set_aside"] = totals.trials_set_aside;
  json["set_aside_why"] = totals.set_aside_why;
  json["measured_at"] = totals.measured_at;
  json["median_seconds"] = JsonNumber(totals.median_seconds, 1);
  json["by_age"] = OrderedJson::array();
  for (const AgeRow& row : totals.by_age) {
    json["by_age"].push_back({{"age", row.ages},
                              {"children", row.children},
                              {"measured", row.measured},
                              {"within", row.within},
                              {"see_a_professional", row.see_professional},
                              {"measure_again", row.again},
                              {"needs_looking_after", row.look_after}});
  }
  json["contradictions"] = state.contradictions;
  return json;
}

// What was done, in words, for whoever has to answer for it.
OrderedJson WhatWasDone(int unsealed, bool alone) {
  OrderedJson said = OrderedJson::array();
  if (alone) {
    said.push_back("This station works alone; nothing went to a server.");
  } else if (unsealed == 0) {
    said.push_back(
        "The server never had a name: every record went there sealed under a key that the stations "
        "alone hold. What its files and its log still hold of it cannot be opened once every "
        "station has destroyed its key.");
  } else {
    said.push_back(std::to_string(unsealed) +
                   " records had reached the server unsealed, from an older version of this "
                   "program. Their remains may stand in its files and its log until its folder is "
                   "erased: sh app/event-server erase FOLDER.");
  }
  said.push_back(
      "Each station with a time below overwrote its records and its key, wrote its file anew, "
      "emptied the log beside it, and found nothing of the event when it looked through both. A "
      "station without a time has not deleted yet.");
  said.push_back(
      "Not deleted: letters, tables and lists that were written to files, and copies of a disk.");
  return said;
}

Result<void> PrintWhere(const EventDatabase& book, const Uuid& event, bool alone) {
  const auto found = WhereDeleted(book, event);
  if (!found) return tl::unexpected(found.error());
  const auto unsealed = UnsealedOnServer(book, event);
  if (!unsealed) return tl::unexpected(unsealed.error());
  const std::vector<DeletedAt>& places = *found;
  OrderedJson json;
  json["schema"] = "nearpoint/event-deletion/1";
  json["everywhere"] =
      !places.empty() && *unsealed == 0 &&
      std::ranges::none_of(places, [](const DeletedAt& place) { return place.done_at.empty(); });
  json["unsealed_on_the_server"] = *unsealed;
  json["what_was_done"] = WhatWasDone(*unsealed, alone);
  json["stations"] = OrderedJson::array();
  for (const DeletedAt& place : places) {
    OrderedJson station{{"station", place.station}, {"name", place.name}};
    station["deleted_at"] =
        place.done_at.empty() ? OrderedJson(nullptr) : OrderedJson(place.done_at);
    station["records"] = place.records;
    json["stations"].push_back(station);
  }
  return PrintJson(json);
}

}  // namespace

Result<void> RunEventNumbers(const NumbersArguments& arguments) {
  auto store = OpenStation(arguments.place.data);
  if (!store) return tl::unexpected(store.error());
  const auto desk = OpenDesk(*store, arguments.place.event);
  if (!desk) return tl::unexpected(desk.error());
  if (!arguments.children) return PrintJson(TotalsToJson(TotalsOf(desk->state()), desk->state()));
  auto sink = DataSink::Open(std::nullopt);
  if (!sink) return tl::unexpected(sink.error());
  if (auto put = sink->Write(ChildrenCsv(desk->state())); !put) return put;
  return sink->Finish();
}

Result<void> RunEventLetters(const LettersArguments& arguments) {
  auto store = OpenStation(arguments.place.data);
  if (!store) return tl::unexpected(store.error());
  const auto desk = OpenDesk(*store, arguments.place.event);
  if (!desk) return tl::unexpected(desk.error());
  const auto children = WhoGetsALetter(desk->state(), !arguments.all);
  LetterOptions options;
  if (arguments.language == "de") options.language = LetterLanguage::kGerman;
  if (arguments.paper == "letter") options.paper = PaperSize::kLetter;
  const auto pdf = LettersPdf(children, desk->state().event, options);
  if (!pdf) return tl::unexpected(pdf.error());
  return WriteFileAtomically(arguments.out, *pdf, Readers::kOwner);
}

Result<void> RunEventWristbands(const WristbandsArguments& arguments) {
  auto store = OpenStation(arguments.place.data);
  if (!store) return tl::unexpected(store.error());
  const auto desk = OpenDesk(*store, arguments.place.event);
  if (!desk) return tl::unexpected(desk.error());
  const auto pdf = WristbandsPdf(desk->state(),
                                 arguments.paper == "letter" ? PaperSize::kLetter : PaperSize::kA4);
  if (!pdf) return tl::unexpected(pdf.error());
  return WriteFileAtomically(arguments.out, *pdf, Readers::kOwner);
}

Result<void> RunEventExport(const EventExportArguments& arguments) {
  auto store = OpenStation(arguments.place.data);
  if (!store) return tl::unexpected(store.error());
  const auto desk = OpenDesk(*store, arguments.place.event);
  if (!desk) return tl::unexpected(desk.error());
  return ExportEvent(*store, desk->state(), arguments.out).map([](const ExportCounts& counts) {
    Say(std::to_string(counts.children) + " children, " + std::to_string(counts.sessions) +
        " sessions, " + std::to_string(counts.resources) + " FHIR resources.");
  });
}

Result<void> RunEventDelete(const EventDeleteArguments& arguments) {
  auto store = OpenStation(arguments.place.data);
  if (!store) return tl::unexpected(store.error());
  const ServerAccess access = AccessOf(*store);
  std::optional<EventDatabase> server;
  if (!access.address.isEmpty() && !arguments.here) {
    auto opened = EventDatabase::OpenServer(access);
    if (!opened) return tl::unexpected(opened.error());
    server.emplace(*std::move(opened));
  }
  const EventDatabase& book = server ? *server : store->database();
  if (arguments.where) {
    // A deleted event has no name any more.
    return PrintWhere(book, arguments.place.event, access.address.isEmpty());
  }
  const auto event = ChooseEvent(*store, arguments.place.event);
  if (!event) return tl::unexpected(event.error());
  const auto state = store->State(*event);
  if (!state) return tl::unexpected(state.error());
  if (arguments.confirm != state->event.name) {
    return Fail(ErrorCode::kBadValue,
                "To delete, give the name of the event: --confirm \"" + state->event.name + "\".");
  }
  if (arguments.here) {
    const auto deleted = DeleteHere(*store, *event);
    if (!deleted) return tl::unexpected(deleted.error());
  } else {
    // What this station holds goes over first, so that it is not held back from the deletion.
    if (server) {
      if (auto merged = Sync(*store, *server); !merged) return tl::unexpected(merged.error());
    }
    const std::string by = store->Setting("name", "station").toStdString();
    if (auto asked = AskToDelete(*store, server ? &*server : nullptr, *event, by); !asked) {
      return asked;
    }
    if (server) {
      if (auto merged = Sync(*store, *server); !merged) return tl::unexpected(merged.error());
    }
  }
  Say("Ask again with: nearpoint event delete --where --event " + *event);
  return PrintWhere(book, *event, access.address.isEmpty());
}

}  // namespace nearpoint
