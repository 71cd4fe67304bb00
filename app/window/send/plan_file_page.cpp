#include "app/window/send/plan_file_page.h"

#include <QFileDialog>
#include <QFileInfo>
#include <QFrame>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/exchange/plan_package.h"
#include "app/exchange/seal.h"
#include "app/records/exercise_plan_json.h"
#include "app/store/exercise_store.h"
#include "app/window/app_context.h"
#include "app/window/exercise/days.h"
#include "app/window/exercise/exercise_words.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/send/send_page.h"
#include "app/window/words.h"
#include "calibration/json_fields.h"

namespace nearpoint {

PlanFilePage::PlanFilePage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetHeading(tr("Plan from my clinic"));
  SetLead(tr("You see the plan before it is used."));
  AddAside(tr("Back to my diary"), PageId::kDiary);
  choose_ = new QPushButton(tr("Choose the file ..."));
  choose_->setObjectName("choose");
  choose_->setFont(look::Body());
  choose_->setProperty("role", "way_out");
  choose_->setAutoDefault(true);
  connect(choose_, &QPushButton::clicked, this, [this] {
    const QString file = QFileDialog::getOpenFileName(
        this, tr("Plan from a file"), QString(), tr("Plans (*.nearpoint *.json);;All files (*)"));
    if (!file.isEmpty()) Load(file);
  });
  body()->addWidget(choose_, 0, Qt::AlignLeft);
  auto* box = new QWidget();
  shown_ = new QVBoxLayout(box);
  shown_->setContentsMargins(0, 0, 0, 0);
  shown_->setSpacing(look::Px(12));
  body()->addWidget(box);
  body()->addStretch(1);
  use_ = SetNext(tr("Use this plan"));
  use_->setObjectName("use");
  use_->setEnabled(false);
  connect(use_, &QPushButton::clicked, this, &PlanFilePage::Use);
}

PageId PlanFilePage::WayOut() const { return PageId::kDiary; }

Result<PlanFilePage::Loaded> PlanFilePage::Read(const QString& file) const {
  const std::string name = QFileInfo(file).fileName().toStdString();
  if (QFileInfo(file).size() > static_cast<qint64>(kMostSealedBytes)) {
    return Fail(ErrorCode::kBadValue, name + ": is larger than a plan can be; it was not opened.");
  }
  const auto text = ReadTextFile(file.toStdString());
  if (!text) return tl::unexpected(text.error());
  if (!text->starts_with("NPSEALED")) {
    auto plan = ParseExercisePlan(*text, name);
    if (!plan) return tl::unexpected(plan.error());
    return Loaded{*std::move(plan), QString()};
  }
  const KeyStore keys = HomeKeys(context().store);
  const auto own = keys.Load();
  if (!own) return tl::unexpected(own.error());
  const auto opened = Unseal(ViewOf(*text), own->identity);
  if (!opened) return Fail(opened.error().code, name + ": " + opened.error().message);
  const auto known = keys.NameOf(opened->sender);
  if (!known) return tl::unexpected(known.error());
  if (!*known) {
    return Fail(
        ErrorCode::kMismatch,
        tr("%1: is not from a clinic whose card you have. Its fingerprint is %2.")
            .arg(QString::fromStdString(name), QString::fromStdString(Fingerprint(opened->sender)))
            .toStdString());
  }
  const auto sent = PlanOf(opened->package);
  if (!sent) return Fail(sent.error().code, name + ": " + sent.error().message);
  const QString whom = QString::fromStdString(sent->for_whom);
  if (!context().person || context().person->name != whom) {
    return Fail(ErrorCode::kMismatch,
                tr("This plan is for \"%1\". Choose that person on the start page first.")
                    .arg(whom)
                    .toStdString());
  }
  auto plan = ParseExercisePlan(sent->text, name);
  if (!plan) return tl::unexpected(plan.error());
  return Loaded{*std::move(plan), QString::fromStdString(**known)};
}

void PlanFilePage::Load(const QString& file) {
  while (QLayoutItem* item = shown_->takeAt(0)) {
    if (QWidget* const gone = item->widget()) {
      gone->hide();  // at once: it goes when the events do
      gone->deleteLater();
    }
    delete item;
  }
  plan_.reset();
  const auto loaded = Read(file);
  use_->setEnabled(loaded.has_value());
  if (!loaded) {
    shown_->addWidget(parts::Text(words::ForError(loaded.error()), "stop"));
    return;
  }
  plan_ = loaded->plan;
  ShowPlan(*loaded);
  use_->setFocus();
}

void PlanFilePage::ShowPlan(const Loaded& loaded) {
  shown_->addWidget(
      loaded.from.isEmpty()
          ? parts::Text(tr("This file carries no seal: nobody vouches that it comes from your "
                           "clinic. Use it only if you know where it is from."),
                        "warm")
          : parts::Text(tr("✓ Sealed by %1.").arg(loaded.from), "soft"));
  const ExercisePlan& plan = loaded.plan;
  QFrame* const card = parts::Card(tr("The plan"));
  QVBoxLayout* const layout = parts::LayoutOf(card);
  layout->addWidget(parts::Text(words::ForPlan(plan) + "."));
  layout->addWidget(parts::Text(words::ForPlanSource(plan), "quiet"));
  QStringList levels;
  for (const Length level : plan.levels) levels << Centimeters(level.mm());
  layout->addWidget(
      parts::Text(tr("Distances from the front of the eyes: %1.").arg(levels.join(", "))));
  const auto date = [](Day day) { return QLocale().toString(ToQDate(day), QLocale::ShortFormat); };
  if (plan.starts) layout->addWidget(parts::Text(tr("It begins on %1.").arg(date(*plan.starts))));
  if (!plan.measure_on.empty()) {
    QStringList days;
    for (const Day day : plan.measure_on) days << date(day);
    layout->addWidget(parts::Text(tr("Measure again on: %1.").arg(days.join(", "))));
  }
  if (!plan.note.empty()) {
    layout->addWidget(parts::Text(QString::fromStdString(plan.note), "soft"));
  }
  shown_->addWidget(card);
  if (plan.stop_when.empty()) return;
  QFrame* const stop = parts::Card(tr("Stop and ask your clinic when"));
  for (const std::string& rule : plan.stop_when) {
    parts::LayoutOf(stop)->addWidget(parts::Point(QString::fromStdString(rule), "■"));
  }
  shown_->addWidget(stop);
}

void PlanFilePage::Use() {
  if (!plan_) return;
  const RowId person = context().person ? context().person->id : 0;
  if (const auto set = ExerciseStore(context().store).SetPlan(person, *plan_); !set) {
    shown_->addWidget(parts::Text(words::ForError(set.error()), "stop"));
    return;
  }
  emit Wanted(PageId::kDiary);
}

}  // namespace nearpoint
