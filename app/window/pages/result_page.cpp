#include "app/window/pages/result_page.h"

#include <QComboBox>
#include <QFileDialog>
#include <QFrame>
#include <QGridLayout>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/records/atomic_file.h"
#include "app/window/app_context.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/near_point_scale.h"
#include "app/window/parts.h"
#include "app/window/safety_words.h"
#include "app/window/trace_view.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {

QString Mm(const std::optional<Length>& length) {
  return length ? Centimeters(length->mm()) : QStringLiteral("–");
}

QString BreakOf(const Trial& trial) {
  if (trial.censored == Censoring::kBelow && trial.limit) {
    return QStringLiteral("≤ ") + Centimeters(trial.limit->mm());
  }
  if (trial.censored == Censoring::kAbove && trial.limit) {
    return QStringLiteral("≥ ") + Centimeters(trial.limit->mm());
  }
  return trial.break_point ? Centimeters(trial.break_point->value.value.mm()) : QStringLiteral("–");
}

QString RecoveryOf(const Trial& trial) {
  return trial.recovery ? Centimeters(trial.recovery->value.value.mm()) : QStringLiteral("–");
}

}  // namespace

ResultPage::ResultPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetHeading(tr("Your near point"));
  SetNext(tr("Back to the start"), PageId::kHome);
  if (context().session == 0 && context().unwritten_session) {
    ShowNothing(
        tr("The measurement is not written down yet. It is kept in memory and tried again: "
           "see above."));
    return;
  }
  if (context().session == 0) {
    ShowNothing(tr("The measurement was ended before its first trial, so there is no result."));
    return;
  }
  const auto session = context().store.FindSession(context().session);
  if (!session) {
    ShowNothing(words::ForError(session.error()));
    return;
  }
  result_ = ReadResult(context().store, *session);
  if (result_.error) {
    ShowNothing(words::ForError(*result_.error));
    return;
  }
  ShowResult();
}

void ResultPage::ShowNothing(const QString& why) {
  body()->addWidget(parts::Text(why, "warm"));
  body()->addStretch(1);
}

void ResultPage::ShowResult() {
  SetLead(MeaningSentence(result_));
  const QString comfort = ComfortSentence(result_);
  // Above the number: it is in view whatever the size of the text.
  constexpr int kBelowTheHeading = 2;
  if (!comfort.isEmpty()) body()->insertWidget(kBelowTheHeading, parts::Text(comfort, "stop"));
  if (result_.estimate.break_mm) {
    body()->addWidget(new NearPointScale(result_.estimate, result_.norm != nullptr));
  }
  // A letter from a school event may lie beside it.
  auto* plane = parts::Text(words::PlaneNoteAtHome(), "quiet");
  plane->setObjectName("plane");
  body()->addWidget(plane);
  auto* next = parts::Text(NextSentence(result_), "soft");
  next->setFont(look::Large());
  body()->addWidget(next);

  auto* show = new QPushButton(tr("Show the details"));
  show->setObjectName("details");
  show->setCheckable(true);
  show->setFont(look::Body());
  body()->addWidget(show, 0, Qt::AlignLeft);
  // Made when asked for: reading the tracks takes a moment.
  connect(show, &QPushButton::toggled, this, [this, show](bool shown) {
    if (!details_) {
      details_ = MakeDetails();
      body()->insertWidget(body()->indexOf(show) + 1, details_);
    }
    details_->setVisible(shown);
    show->setText(shown ? tr("Hide the details") : tr("Show the details"));
  });
  body()->addStretch(1);
  if (!result_.session.session_json.empty()) {
    QPushButton* const save = AddAside(tr("Save for my professional ..."));
    connect(save, &QPushButton::clicked, this, &ResultPage::SaveAsFile);
  }
}

QWidget* ResultPage::MakeDetails() {
  auto* details = new QWidget();
  auto* column = new QVBoxLayout(details);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(look::Px(12));
  column->addWidget(MakeTable());
  if (!result_.trials.empty()) {
    auto* which = parts::NewComboBox();
    which->setObjectName("which_trial");
    which->setFont(look::Body());
    which->setAccessibleName(tr("Trial to show"));
    for (const StoredTrial& stored : result_.trials) {
      which->addItem(tr("Trial %1").arg(stored.trial.number));
    }
    auto* trace = new TraceView();
    trace->SetTrial(result_.trials.front());
    connect(which, &QComboBox::currentIndexChanged, trace, [this, trace](int index) {
      trace->SetTrial(result_.trials.at(static_cast<std::size_t>(index)));
    });
    column->addWidget(which, 0, Qt::AlignLeft);
    column->addWidget(trace);
  }
  column->addWidget(parts::Text(BasisSentence(result_), "quiet"));
  return details;
}

QWidget* ResultPage::MakeTable() const {
  QFrame* const card = parts::Card(QString());
  auto* grid = new QGridLayout();
  grid->setHorizontalSpacing(look::Px(look::IsLarge() ? 10 : 18));
  grid->setVerticalSpacing(look::Px(8));
  const QStringList heads{tr("Trial"), tr("Two at"), tr("One again"), tr("Eyes left at"),
                          tr("Counts")};
  for (int column = 0; column < heads.size(); ++column) {
    grid->addWidget(parts::Text(heads[column], "quiet"), 0, column);
  }
  int row = 1;
  for (const StoredTrial& stored : result_.trials) {
    const Trial& trial = stored.trial;
    // A reason takes a line of its own: it is a sentence.
    const QStringList cells{QLocale().toString(trial.number), BreakOf(trial), RecoveryOf(trial),
                            Mm(trial.objective_break), trial.set_aside ? tr("– no") : tr("✓ yes")};
    for (int column = 0; column < cells.size(); ++column) {
      QLabel* const cell = parts::Text(cells[column]);
      cell->setWordWrap(false);  // a number stays in one piece
      grid->addWidget(cell, row, column);
    }
    ++row;
    if (trial.set_aside) {
      grid->addWidget(parts::Text(words::SetAside(*trial.set_aside), "quiet"), row, 1, 1, 4);
      ++row;
    }
  }
  grid->setColumnStretch(4, 1);
  parts::LayoutOf(card)->addLayout(grid);
  return card;
}

void ResultPage::SaveAsFile() {
  const QString name =
      tr("near point %1.json")
          .arg(result_.session.started_at.toLocalTime().date().toString(Qt::ISODate));
  const QString file =
      QFileDialog::getSaveFileName(this, tr("Save as a file"), name, tr("Session files (*.json)"));
  if (file.isEmpty()) return;
  const auto written = WriteFileAtomically(file.toStdString(), result_.session.session_json);
  auto* said =
      written ? parts::Text(tr("✓ Saved. The file holds numbers, no name and no picture."), "soft")
              : parts::Text(words::ForError(written.error()), "stop");
  body()->insertWidget(2, said);
}

}  // namespace nearpoint
