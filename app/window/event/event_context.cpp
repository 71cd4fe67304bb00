#include "app/window/event/event_context.h"

#include <QCoreApplication>
#include <QDir>
#include <QFileInfo>
#include <array>
#include <utility>

namespace nearpoint {
namespace {

struct PracticeNames {
  Q_DECLARE_TR_FUNCTIONS(PracticeNames)

 public:
  static QString Of(PracticeChild child) {
    switch (child) {
      case PracticeChild::kEasy:
        return tr("Easy");
      case PracticeChild::kWillNotLook:
        return tr("Will Not Look");
      case PracticeChild::kPressesAtOnce:
        return tr("Presses At Once");
      case PracticeChild::kMovesBack:
        return tr("Moves Back");
      case PracticeChild::kGlasses:
        return tr("Wears Glasses");
      case PracticeChild::kSilent:
        return tr("Says Nothing");
    }
    return {};
  }
};

// A disk that is full or was pulled, another window that writes; not what a rule forbids.
bool MayWorkLater(const Error& error) {
  return error.code == ErrorCode::kNotWritable || error.code == ErrorCode::kUnavailable ||
         error.code == ErrorCode::kUnreadable;
}

constexpr std::array kChildren{PracticeChild::kEasy,          PracticeChild::kWillNotLook,
                               PracticeChild::kPressesAtOnce, PracticeChild::kMovesBack,
                               PracticeChild::kGlasses,       PracticeChild::kSilent};

}  // namespace

EventContext::EventContext(EventStore store, bool practice)
    : store_(std::move(store)), practice_(practice) {}

Result<EventContext*> EventContext::Of(AppContext& context) {
  if (context.event && context.event->practice_ == context.practice) return context.event.get();
  // Going would throw away what could not be written yet.
  if (context.event && !context.event->WriteWhatIsLeft()) {
    return tl::unexpected(*context.event->why_unwritten());
  }
  auto folder = context.practice ? std::make_unique<QTemporaryDir>() : nullptr;
  const QString place =
      folder ? folder->path() : QFileInfo(context.store.database().file()).absolutePath();
  auto store = EventStore::Open(QDir(place).filePath("event.db"),
                                [&home = context.store] { return home.Now(); });
  if (!store) return tl::unexpected(store.error());
  context.event.reset(new EventContext(*std::move(store), context.practice));
  EventContext& event = *context.event;
  event.folder_ = std::move(folder);
  if (event.practice_) {
    event.BeginPractice();
    return &event;
  }
  event.link_ = std::make_unique<EventLink>(event.store_.database().place());
  const Uuid current = event.store_.Setting("event").toStdString();
  if (!current.empty() && event.Choose(current)) return &event;
  // One that arrived from the server, or whose choice was forgotten.
  const auto events = event.store_.Events();
  if (events && !events->empty()) static_cast<void>(event.Choose(events->front().event));
  return &event;
}

void EventContext::BeginPractice() {
  EventOpened opened;
  opened.name = "Practice";
  opened.day = "2026-03-14";
  const auto event = EventDesk::Begin(store_, opened);
  if (!event) return;
  std::vector<NewRecord> records;
  for (std::size_t i = 0; i < kChildren.size(); ++i) {
    ChildAdded added;
    added.number = std::to_string(i + 1);
    added.name = PracticeNames::Of(kChildren[i]).toStdString();
    added.age_years = 8;
    const Uuid uuid = MakeUuid();
    records.push_back({uuid, added, ""});
    // The first one has no consent yet: asking for it is practised too.
    if (i > 0) records.push_back({uuid, ConsentTaken{true, "form"}, ""});
  }
  // The store is new and its own; without its children the page says that nobody is there.
  static_cast<void>(store_.Append(*event, records));
  static_cast<void>(Choose(*event));
}

PracticeOptions EventContext::Patient(const Uuid& who) const {
  const ChildState* const state = desk_ ? desk_->state().Find(who) : nullptr;
  const auto number = state != nullptr ? std::atoi(state->child.number.c_str()) : 1;
  const auto at = static_cast<std::size_t>(std::max(0, number - 1)) % kChildren.size();
  return PracticeWith(kChildren[at]);
}

Profile EventContext::MeasuredWith(const AppContext& home) const {
  if (card && card->child() == child && card->face_known()) return card->profile();
  return StationProfile(home, store_);
}

Result<void> EventContext::Do(const Uuid& event, const Act& act) {
  if (desk_ && desk_->state().uuid == event) return act(*desk_);
  auto desk = EventDesk::Open(store_, event);
  if (!desk) return tl::unexpected(desk.error());
  return act(*desk);
}

Result<void> EventContext::Write(Act act) {
  if (!desk_) return Fail(ErrorCode::kNotFound, "This event is not on this computer.");
  const Uuid event = desk_->state().uuid;
  if (WriteWhatIsLeft()) {
    auto done = Do(event, act);
    if (done || !MayWorkLater(done.error())) return done;
    why_unwritten_ = done.error();
  }
  unwritten_.push_back({event, std::move(act)});
  return tl::unexpected(*why_unwritten_);
}

bool EventContext::WriteWhatIsLeft() {
  while (!unwritten_.empty()) {
    const auto done = Do(unwritten_.front().event, unwritten_.front().act);
    if (!done && MayWorkLater(done.error())) {
      why_unwritten_ = done.error();
      return false;
    }
    unwritten_.pop_front();
    Nudge();
  }
  why_unwritten_.reset();
  return true;
}

Result<void> EventContext::Choose(const Uuid& event) {
  auto desk = EventDesk::Open(store_, event);
  if (!desk) return tl::unexpected(desk.error());
  desk_.emplace(*std::move(desk));
  return store_.SetSetting("event", QString::fromStdString(event));
}

bool EventContext::Refresh() {
  if (desk_) {
    const auto changed = desk_->Refresh();
    // Deleted by its organiser: it is not here any more.
    if (!changed) desk_.reset();
    return !changed || *changed;
  }
  const auto events = store_.Events();
  return events && !events->empty() && Choose(events->front().event).has_value();
}

void EventContext::Nudge() {
  if (link_) link_->Nudge();
}

}  // namespace nearpoint
