#include "app/window/clinic/clinic.h"

#include <QAbstractItemView>
#include <QAbstractSpinBox>
#include <QDir>
#include <QFileInfo>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QScrollArea>
#include <QStyle>
#include <QTimer>
#include <QVBoxLayout>

#include "app/window/exercise/days.h"
#include "app/window/look.h"
#include "app/window/parts.h"

namespace nearpoint {
namespace {
constexpr int kWidest = 1180;  // tables and pictures use more width than text
}  // namespace

Result<Clinic*> OpenClinic(AppContext& context) {
  if (context.clinic) return context.clinic.get();
  const QDir folder = QFileInfo(context.store.database().file()).absoluteDir();
  const Store& home = context.store;
  auto store = ClinicStore::Open(folder.filePath("clinic.db"), [&home] { return home.Now(); });
  if (!store) return tl::unexpected(store.error());
  context.clinic = std::make_shared<Clinic>(
      Clinic{*std::move(store), KeyStore(folder.filePath("clinic-keys").toStdString()), 0, 0, {}});
  return context.clinic.get();
}

ClinicPage::ClinicPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  body()->parentWidget()->setMaximumWidth(look::Px(kWidest));
  const auto clinic = OpenClinic(context());
  if (clinic) {
    clinic_ = *clinic;
  } else {
    ShowTrouble(clinic.error());
  }
}

void ClinicPage::Say(const QString& sentence, const char* role) {
  auto* said = findChild<QLabel*>("said");
  if (said == nullptr) {
    said = parts::Text(QString());
    said->setObjectName("said");
    said->setTextInteractionFlags(Qt::TextSelectableByMouse);
    constexpr int kBelowHeading = 3;
    body()->insertWidget(kBelowHeading, said);
  }
  said->setProperty("role", role);
  said->style()->unpolish(said);
  said->style()->polish(said);
  said->setText(sentence);
  said->setVisible(!sentence.isEmpty());
  // Whoever pressed a button far below must see what came of it; once the layout knows its place.
  QTimer::singleShot(0, said, [this, said] {
    if (auto* scroll = findChild<QScrollArea*>()) scroll->ensureWidgetVisible(said);
  });
}

void ClinicPage::ShowTrouble(const QString& sentence) { Say(sentence, "stop"); }
void ClinicPage::ShowDone(const QString& sentence) { Say(QStringLiteral("✓ ") + sentence, "soft"); }

QString ClinicPage::By() {
  QString by = clinic_ != nullptr ? clinic_->store.Setting("by").trimmed() : QString();
  if (by.isEmpty()) {
    ShowTrouble(tr("Write your name under \"Set up\" first: the record says who did what."));
  }
  return by;
}

void ClinicPage::keyPressEvent(QKeyEvent* event) {
  const bool enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
  const QWidget* const focus = focusWidget();
  const bool takes_it = qobject_cast<const QAbstractItemView*>(focus) != nullptr ||
                        qobject_cast<const QAbstractSpinBox*>(focus) != nullptr ||
                        qobject_cast<const QLineEdit*>(focus) != nullptr;
  if (enter && takes_it && focus->objectName() != "search") return;
  Page::keyPressEvent(event);
}

Day ClinicPage::Today() { return ToDay(context().store.Now().toLocalTime().date()); }

}  // namespace nearpoint
