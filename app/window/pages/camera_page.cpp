#include "app/window/pages/camera_page.h"

#include <QBoxLayout>
#include <QButtonGroup>
#include <QCheckBox>
#include <QComboBox>
#include <QFrame>
#include <QLabel>
#include <QLocale>
#include <QPushButton>
#include <QVBoxLayout>

#include "app/live/camera_list.h"
#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/language.h"
#include "app/window/letter_detail.h"
#include "app/window/live_picture.h"
#include "app/window/look.h"
#include "app/window/parts.h"
#include "app/window/words.h"
#include "calibration/fixation_letter.h"

namespace nearpoint {
namespace {

// Of the middle of the picture, where the face is. Guesses, on the mild side: the tracker itself
// says when it is not sure.
constexpr double kTooDark = 0.2;
constexpr double kTooBright = 0.9;
// Where a person sits before a screen.
constexpr double kNearMm = 320;
constexpr double kFarMm = 700;

}  // namespace

CameraPage::CameraPage(AppContext& the_context, QWidget* parent) : Page(the_context, parent) {
  SetStep(StepText(context(), PageId::kCamera));
  SetHeading(tr("Can the camera see you well?"));
  SetLead(
      tr("Sit as you would for reading, light from the front, glasses on if you read with "
         "them."));
  MakeCameraChoice();

  auto* row = parts::NewRow();
  picture_ = new LivePicture();
  picture_->setMinimumHeight(look::Art(230));
  row->addWidget(picture_, 3);
  QFrame* const checks = parts::Card(QString());
  for (QLabel** line : {&eyes_, &light_, &distance_}) {
    *line = parts::Text(QString());
    parts::LayoutOf(checks)->addWidget(*line);
  }
  parts::LayoutOf(checks)->addStretch(1);
  row->addWidget(checks, 2);
  body()->addLayout(row);
  MakeTargetChoice();
  body()->addStretch(1);

  SetNext(context().first_run ? tr("Continue") : tr("Done"), After(context(), PageId::kCamera));
  if (context().first_run) AddAside(tr("Back"), WayOut());

  Live& live = context().live;
  connect(&live, &Live::FrameArrived, this, &CameraPage::OnFrame);
  connect(&live, &Live::Failed, this, &CameraPage::OnFailed);
  Start();
}

CameraPage::~CameraPage() { context().live.Stop(); }

PageId CameraPage::WayOut() const { return Before(context(), PageId::kCamera); }

void CameraPage::MakeCameraChoice() {
  auto* row = parts::NewRow();
  cameras_ = parts::NewComboBox();
  cameras_->setObjectName("cameras");
  cameras_->setFont(look::Body());
  cameras_->setAccessibleName(tr("Camera"));
  for (const CameraName& camera : ListCameras()) {
    cameras_->addItem(QString::fromStdString(camera.name), QString::fromStdString(camera.spec));
  }
  if (cameras_->count() == 0) cameras_->addItem(tr("no camera found"), QString("0"));
  const int known = cameras_->findData(context().camera);
  cameras_->setCurrentIndex(known < 0 ? 0 : known);
  auto* again = new QPushButton(tr("Try again"));
  again->setObjectName("again");
  again->setFont(look::Body());
  row->addWidget(parts::Text(tr("Camera")));
  row->addWidget(cameras_, 1);
  row->addWidget(again);
  body()->addLayout(row);
  trouble_ = parts::Text(QString(), "stop");
  trouble_->hide();
  body()->addWidget(trouble_);
  connect(again, &QPushButton::clicked, this, &CameraPage::Start);
  connect(cameras_, &QComboBox::activated, this, [this] {
    context().camera = cameras_->currentData().toString();
    if (auto kept = context().store.SetSetting("camera", context().camera); !kept) {
      trouble_->setText(words::ForError(kept.error()));
      trouble_->show();
    }
    Start();
  });
}

void CameraPage::MakeTargetChoice() {
  QFrame* const card = parts::Card(tr("What will you look at?"));
  auto* group = new QButtonGroup(card);
  const struct {
    const char* value;
    QString text;
    QString cost;
  } targets[] = {
      {"printed", tr("A small printed letter, fixed right under the camera (better)"),
       tr("A letter about 1 mm high on a slip of paper: fine print makes your eyes work as they do "
          "when you read.")},
      {"screen", tr("The letter at the top of the screen"),
       tr("Coarser than print and a little away from the camera: less exact by some "
          "millimetres.")},
      {"card", tr("The letter on the printed card, which I bring to my nose"),
       tr("For whoever cannot lean in. Your face stays where it is; the card needs its touch of "
          "the "
          "nose, under \"Calibration by the card\".")}};
  const QString chosen = context().store.Setting("target", "printed");
  for (const auto& target : targets) {
    QPushButton* const button = parts::Choice(target.text, target.cost);
    button->setObjectName(target.value);
    button->setCheckable(true);
    button->setChecked(chosen == target.value);
    group->addButton(button);
    parts::LayoutOf(card)->addWidget(button);
    connect(button, &QPushButton::clicked, this, [this, value = QString(target.value)] {
      if (auto kept = context().store.SetSetting("target", value); !kept) {
        trouble_->setText(words::ForError(kept.error()));
        trouble_->show();
      }
    });
  }
  auto* sheet = new QCheckBox(tr("The printed letter is from the sheet"), card);
  sheet->setObjectName("of_the_sheet");
  sheet->setFont(look::Body());
  sheet->setChecked(LetterIsOfTheSheet(context().store));
  parts::LayoutOf(card)->addWidget(sheet);
  parts::LayoutOf(card)->addWidget(
      parts::Text(tr("Then its finest detail is known and stands in your results: %1 mm.")
                      .arg(QLocale().toString(PrintedLetterDetail(context().profile).mm(), 'f', 2)),
                  "quiet"));
  connect(sheet, &QCheckBox::toggled, this, [this](bool on) {
    if (auto kept = SetLetterIsOfTheSheet(context().store, on); !kept) {
      trouble_->setText(words::ForError(kept.error()));
      trouble_->show();
    }
  });
  body()->addWidget(card);
}

void CameraPage::Start() {
  trouble_->hide();
  picture_->Clear();
  picture_->SetWord(tr("The camera is starting ..."));
  for (QLabel* line : {eyes_, light_, distance_}) line->clear();
  context().live.Start(context().open_source(context()));
}

void CameraPage::Say(QLabel* line, bool good, const QString& text) {
  line->setText((good ? QStringLiteral("✓  ") : QStringLiteral("→  ")) + text);
}

void CameraPage::OnFrame(const LiveFrame& frame) {
  picture_->SetImage(frame.preview);
  if (frame.preview.isNull()) return;  // words change as rarely as the picture does
  const DistanceSample& sample = frame.sample;
  Say(eyes_, sample.distance.has_value(),
      sample.distance ? tr("Your eyes are seen.")
                      : words::Lost(sample.why.value_or(LostReason::kNoFace)));
  if (frame.brightness < kTooDark) {
    Say(light_, false, tr("Too dark: turn on a lamp in front of you."));
  } else if (frame.brightness > kTooBright) {
    Say(light_, false, tr("Too bright: turn away from the window or lamp."));
  } else {
    Say(light_, true, tr("The light is good."));
  }
  if (!sample.distance) {
    distance_->clear();
    return;
  }
  const double mm = sample.distance->value.mm();
  const QString about = tr("About %1 away").arg(Centimeters(mm, 0));
  if (mm < kNearMm) {
    Say(distance_, false, tr("%1: lean back a little.").arg(about));
  } else if (mm > kFarMm) {
    Say(distance_, false, tr("%1: come a little nearer.").arg(about));
  } else {
    Say(distance_, true, tr("%1: good.").arg(about));
  }
}

void CameraPage::OnFailed(const Error& error) {
  picture_->Clear();
  picture_->SetWord(tr("no picture"));
  trouble_->setText(words::SourceError(error) + ' ' + tr("You can go on and come back later."));
  trouble_->setToolTip(words::Detail(error));
  trouble_->show();
  for (QLabel* line : {eyes_, light_, distance_}) line->clear();
}

}  // namespace nearpoint
