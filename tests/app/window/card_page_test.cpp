// Calibration by the card in the window: from the keyboard to the profile in the store.
#include <gmock/gmock.h>

#include <QComboBox>
#include <QDoubleSpinBox>
#include <QLabel>
#include <QPushButton>
#include <QTest>
#include <memory>

#include "app/live/practice_card.h"
#include "app/window/exercise/dot_size.h"
#include "app/window/pages/card_touch_page.h"
#include "app/window/practice_card.h"
#include "calibration/print_scale.h"
#include "calibration/profile_json.h"
#include "tests/app/window/card_show.h"
#include "tests/app/window/home_fixture.h"
#include "tests/app/window/press_driver.h"

namespace nearpoint {
namespace {

class CardPageTest : public testing::Test {
 protected:
  CardPageTest() {
    nearpoint::Person person;
    person.name = "Mira";
    person.birth_year = 1990;
    person_ = home_.store().AddPerson(person).value().id;
  }
  MainWindow& Open() {
    MainWindow& window = home_.Open();
    window.Show(PageId::kCard);
    return window;
  }
  // Tab until the button has the focus, then Return.
  void Take(const char* button) {
    MainWindow& window = home_.window();
    for (int i = 0; i < 40; ++i) {
      QWidget* const focus = window.focusWidget();
      if (focus != nullptr && focus->objectName() == button) break;
      PressKey(window, Qt::Key_Tab);
    }
    ASSERT_NE(window.focusWidget(), nullptr);
    ASSERT_EQ(window.focusWidget()->objectName(), button);
    PressKey(window, Qt::Key_Return);
    QCoreApplication::processEvents();
  }
  // Nothing has begun; one key leads to the page that measures the print, another back.
  void OneKeyLeadsToThePrint() {
    MainWindow& window = home_.window();
    EXPECT_FALSE(home_.live().running());
    EXPECT_EQ(NextOf(window), "Measure the print");
    PressKey(window, Qt::Key_Return);
    ASSERT_TRUE(RunUntil([&] { return window.shown() == PageId::kCardPrint; }, 100));
    PressKey(window, Qt::Key_Escape);
    ASSERT_TRUE(RunUntil([&] { return window.shown() == PageId::kCard; }, 100));
  }
  std::optional<Profile> Stored() {
    const auto calibration = home_.store().LatestCalibration(person_);
    if (!calibration || !*calibration) return std::nullopt;
    return ParseProfile((*calibration)->profile_json, "stored").value();
  }
  bool Says(const QString& part) {
    for (const QLabel* label : home_.window().page()->findChildren<QLabel*>()) {
      if (!label->isHidden() && label->text().contains(part)) return true;
    }
    return false;
  }
  static OpenLiveSource Practising(const AppContext& context, CardTask task) {
    return OpenCardPractice(task, context.profile, PracticePace::kAtOnce);
  }
  static OpenLiveSource Touching(const AppContext&, CardTask) { return ShowTouch(CardToTheNose()); }
  // Seconds at which that person keeps the card there.
  static constexpr double kOnTheNose = 7.5;
  static constexpr Time kHeldUp = FromMilliseconds(4500);
  // Space, as soon as the page takes it and the clock of the pictures has come to that second.
  void PressAt(MainWindow& window, double seconds) {
    auto at = std::make_shared<Time>();
    const auto heard = QObject::connect(&home_.live(), &Live::Looked, &window,
                                        [at](const CardLook& look) { *at = look.time; });
    ASSERT_TRUE(RunUntil([&] { return ToSeconds(*at) >= seconds; }));
    QObject::disconnect(heard);
    ASSERT_EQ(TouchStage(), CardTouchPage::Stage::kBring);
    PressKey(window, Qt::Key_Space);
  }
  // Everything is known but the zero; the print only where it says so.
  void KnowAllBut(bool print) {
    Profile& profile = home_.context().profile;
    profile = simulate::TrueProfile(CardToTheNose());
    if (print) {
      profile.print = PrintScale{1, 1, kRulerPrintSd};
      profile.made.print = Origin{};
    }
    home_.context().calibrated = true;
  }
  [[nodiscard]] CardTouchPage::Stage TouchStage() {
    return static_cast<const CardTouchPage&>(*home_.window().page()).stage();
  }
  // The touch from its page to the end, without a zero: what is said then.
  void ExpectRefusedTouch(const QString& headline, const QString& advice) {
    MainWindow& window = Open();
    KnowAllBut(/*print=*/true);
    window.Show(PageId::kCardTouch);
    PressAt(window, kOnTheNose);
    ASSERT_TRUE(RunUntil([&] { return TouchStage() == CardTouchPage::Stage::kOver; }));
    EXPECT_TRUE(Says(headline));
    EXPECT_TRUE(Says(advice));
    EXPECT_TRUE(home_.sound().said.last().contains(advice));  // a card on the nose hides the words
    EXPECT_EQ(NextOf(window), "Skip");
    EXPECT_FALSE(Stored());
  }
  static bool Practises(const MainWindow& window) {
    for (const QLabel* label : window.findChildren<QLabel*>()) {
      if (label->isVisible() && label->property("role") == "tag") return true;
    }
    return false;
  }
  // The next button says how it went.
  static QString NextOf(const MainWindow& window) {
    for (const QPushButton* button : window.page()->findChildren<QPushButton*>()) {
      if (button->property("role") == "next") return button->text();
    }
    return {};
  }

  Home home_;
  RowId person_ = 0;
};

TEST_F(CardPageTest, TheCameraFromTiltsToTheStoreByKeyboardAlone) {
  home_.context().open_card_source = [](const AppContext&, CardTask) {
    return ShowCard(drawn::PatternCard());
  };
  MainWindow& window = Open();
  Take("camera");
  ASSERT_EQ(window.shown(), PageId::kCardCamera);
  ASSERT_TRUE(RunUntil([&] { return NextOf(window) == "Continue"; }));
  const auto profile = Stored();
  ASSERT_TRUE(profile);
  EXPECT_NEAR(profile->camera.fx / CardShow::Webcam().fx, 1, 0.003);
  EXPECT_LT(profile->camera.focal_rel_sd, 0.003);
  EXPECT_TRUE(profile->made.camera);
  EXPECT_TRUE(home_.context().calibrated);
  PressKey(window, Qt::Key_Return);
  EXPECT_TRUE(RunUntil([&] { return window.shown() == PageId::kCard; }, 100));
  // The person who comes back tomorrow is measured with it.
  Choose(home_.context(), *home_.context().person);
  EXPECT_TRUE(home_.context().calibrated);
  EXPECT_EQ(home_.context().profile.camera.fx, profile->camera.fx);
}

TEST_F(CardPageTest, APhotoOfAnotherShapeIsRefusedAndNothingIsKept) {
  home_.context().open_card_source = [](const AppContext&, CardTask) {
    return ShowCard(drawn::BankCard(0.75, true, 100, 60));
  };
  MainWindow& window = Open();
  Take("camera");
  auto* cards = window.page()->findChild<QComboBox*>("cards");
  cards->setCurrentIndex(1);
  emit cards->activated(1);
  ASSERT_TRUE(RunUntil([&] { return Says("has not the shape of a bank card"); }));
  EXPECT_EQ(NextOf(window), "Skip");
  EXPECT_FALSE(Stored());
  EXPECT_FALSE(home_.context().calibrated);
}

TEST_F(CardPageTest, TheFaceRefusesAPrintThatNobodyMeasured) {
  const auto patient = CardOnForehead();
  home_.context().open_card_source = [](const AppContext&, CardTask) {
    return ShowCardOnForehead();
  };
  MainWindow& window = Open();
  EXPECT_FALSE(window.page()->findChild<QPushButton*>("face")->isEnabled());  // camera first
  home_.context().profile.camera = simulate::TrueProfile(patient).camera;
  home_.context().calibrated = true;
  window.Show(PageId::kCard);
  Take("face");
  ASSERT_EQ(window.shown(), PageId::kCardFace);
  EXPECT_TRUE(Says("was not measured"));
  OneKeyLeadsToThePrint();
  EXPECT_FALSE(Stored());
  // On somebody's own word it goes on, and that costs what it costs.
  Take("face");
  Take("unchecked");
  ASSERT_TRUE(RunUntil([&] { return NextOf(window) == "Continue"; }));
  const auto profile = Stored();
  ASSERT_TRUE(profile && profile->face.iris && profile->face.distance_pd);
  EXPECT_NEAR(profile->face.iris->value.mm() / 11.7, 1, 0.015);
  EXPECT_NEAR(profile->face.distance_pd->value.mm() / 62, 1, 0.01);
  EXPECT_GT(profile->face.distance_pd->sd.mm(), 0.039 * 62);
  ASSERT_TRUE(profile->made.face);
  EXPECT_THAT(profile->made.face->method, testing::HasSubstr("print not measured"));
  EXPECT_FALSE(profile->made.print);
}

TEST_F(CardPageTest, ARulerTellsThePrintByKeyboardAlone) {
  MainWindow& window = Open();
  Take("print");
  ASSERT_EQ(window.shown(), PageId::kCardPrint);
  const auto type = [&](const char* mm) {
    auto* const ruler = window.page()->findChild<QDoubleSpinBox*>("ruler");
    ruler->setFocus();
    ruler->selectAll();
    QTest::keyClicks(ruler, mm);
    QTest::keyClick(ruler, Qt::Key_Return);
  };
  // Nothing typed is no measurement, and neither are inches.
  type("");
  EXPECT_TRUE(Says("Type what the ruler shows"));
  type("3.9");
  EXPECT_TRUE(Says("Type what the ruler shows"));
  EXPECT_FALSE(Stored());
  type("99.5");
  EXPECT_TRUE(Says("99.5"));
  ASSERT_TRUE(Stored() && Stored()->print);
  EXPECT_NEAR(LengthFactor(PrintOf(*Stored())), 0.995, 1e-9);
  EXPECT_EQ(PrintOf(*Stored()).sd, kRulerPrintSd);
  EXPECT_EQ(Stored()->made.print->method, "ruler, 99.5 %");
  // Another print at 94 %: refused, and the one before it is not the one at hand.
  type("94");
  EXPECT_TRUE(Says("printed at 94.0\u00a0% of its size"));
  EXPECT_FALSE(Stored()->made.print);
  EXPECT_EQ(PrintOf(*Stored()).sd, kUncheckedPrintSd);
}

TEST_F(CardPageTest, TheCameraTellsThePrintBesideABankCard) {
  MainWindow& window = Open();
  Take("print");
  EXPECT_FALSE(window.page()->findChild<QPushButton*>("look")->isEnabled());  // the camera first
  home_.context().profile.camera = CardShow::Webcam();
  home_.context().calibrated = true;
  for (const double print : {0.94, 1.0}) {
    home_.context().open_card_source = [print](const AppContext&, CardTask) {
      return ShowSheet(print);
    };
    window.Show(PageId::kCardPrint);
    Take("look");
    ASSERT_TRUE(RunUntil([&] { return Says(print < 1 ? "printed at 9" : "✓ Measured"); })) << print;
    EXPECT_FALSE(home_.live().running());
    ASSERT_TRUE(Stored());
    EXPECT_EQ(Stored()->made.print.has_value(), print == 1);
  }
  EXPECT_NEAR(LengthFactor(PrintOf(*Stored())), 1, 0.004);
  EXPECT_THAT(Stored()->made.print->method, testing::HasSubstr("beside a real card"));
}

TEST_F(CardPageTest, ThePlaceOfTheLetterIsKeptBesideThePrint) {
  MainWindow& window = Open();
  home_.context().profile.print = PrintScale{0.998, 0.998, 0.003};
  home_.context().profile.made.print = Origin{};
  Take("target");
  ASSERT_EQ(window.shown(), PageId::kCardTarget);
  window.page()->findChild<QDoubleSpinBox*>("below")->setValue(14);
  window.page()->findChild<QDoubleSpinBox*>("right")->setValue(-5);
  Take("keep");
  EXPECT_EQ(Stored()->target_mm, Eigen::Vector3d(5, 14, 0));
  EXPECT_LE(Stored()->target_sd.mm(), 3);
  EXPECT_TRUE(Stored()->made.target);
  EXPECT_TRUE(Stored()->made.print);
}

TEST_F(CardPageTest, TheTouchOfTheNoseGoesIntoTheProfileWithOneKey) {
  home_.context().open_card_source = Touching;
  MainWindow& window = Open();
  EXPECT_FALSE(window.page()->findChild<QPushButton*>("touch")->isEnabled());  // camera first
  KnowAllBut(/*print=*/true);
  window.Show(PageId::kCard);
  Take("touch");
  ASSERT_EQ(window.shown(), PageId::kCardTouch);
  PressAt(window, kOnTheNose);
  ASSERT_TRUE(RunUntil([&] { return NextOf(window) == "Continue"; }));
  const auto profile = Stored();
  ASSERT_TRUE(profile && profile->held_card && profile->held_card->zero);
  const UncertainLength zero = *profile->held_card->zero;
  EXPECT_NEAR(zero.value.mm(), 0, 3 * zero.sd.mm());
  EXPECT_GE(zero.sd.mm(), kTouchDepth.sd.mm());
  EXPECT_FALSE(home_.live().running());
  // It switches nothing by itself: only who chose the card measures with it, and then with the
  // zero.
  EXPECT_FALSE(SetUpAsChosen(*profile, "printed").held_card);
  EXPECT_FALSE(SetUpAsChosen(*profile, "screen").held_card);
  EXPECT_TRUE(SetUpAsChosen(*profile, "card").held_card->zero);
  PressKey(window, Qt::Key_Return);
  ASSERT_TRUE(RunUntil([&] { return window.shown() == PageId::kCard; }, 100));
  EXPECT_TRUE(window.page()->findChild<QPushButton*>("touch")->accessibleDescription().contains(
      "Measured"));
}

TEST_F(CardPageTest, ACardThatNeverTouchesIsRefusedAndNothingIsKept) {
  home_.context().open_card_source = Practising;
  MainWindow& window = Open();
  KnowAllBut(/*print=*/true);
  window.Show(PageId::kCardTouch);
  PressAt(window, 8);  // at arm's length
  ASSERT_TRUE(RunUntil([&] { return TouchStage() == CardTouchPage::Stage::kOver; }));
  EXPECT_EQ(NextOf(window), "Skip");
  EXPECT_FALSE(Stored());
}

TEST_F(CardPageTest, TheTouchAsksForTheSizeOfThePrintFirst) {
  home_.context().open_card_source = Touching;
  MainWindow& window = Open();
  KnowAllBut(/*print=*/false);
  window.Show(PageId::kCard);
  Take("touch");
  ASSERT_EQ(window.shown(), PageId::kCardTouch);
  EXPECT_EQ(TouchStage(), CardTouchPage::Stage::kPrint);
  EXPECT_TRUE(Says("was not measured"));
  EXPECT_TRUE(Says("known to 4 % only: 3 mm at 8 cm"));
  OneKeyLeadsToThePrint();
  // Skipped, it stays as it was.
  Take("touch");
  Take("skip");
  ASSERT_TRUE(RunUntil([&] { return window.shown() == PageId::kCard; }, 100));
  EXPECT_FALSE(Stored());
  // On somebody's own word it goes on, and the end says what was lost.
  Take("touch");
  Take("unchecked");
  EXPECT_EQ(NextOf(window), "Skip");
  PressAt(window, kOnTheNose);
  ASSERT_TRUE(RunUntil([&] { return NextOf(window) == "Continue"; }));
  EXPECT_TRUE(Says("The print was not measured, so 4 % of it comes on top."));
  ASSERT_TRUE(Stored() && Stored()->held_card);
  EXPECT_TRUE(Stored()->held_card->zero);
  EXPECT_EQ(PrintOf(*Stored()).sd, kUncheckedPrintSd);
}

TEST_F(CardPageTest, ATouchInTheDarkIsCalledDark) {
  home_.context().open_card_source = [](const AppContext&, CardTask) {
    return ShowTouch(CardToTheNose(), kHeldUp);
  };
  ExpectRefusedTouch("It is too dark", "Put more light on your face, from the front");
}

TEST_F(CardPageTest, ATouchWithACardOfAnotherShapeIsRefused) {
  home_.context().open_card_source = [](const AppContext&, CardTask) {
    simulate::PatientOptions person = CardToTheNose();
    person.card->width = Length::Millimeters(100);
    person.card->height = Length::Millimeters(60);
    return ShowTouch(person);
  };
  ExpectRefusedTouch("This card has another shape", "Print the sheet at 100 %");
}

// A family learns the whole way with the simulated person; nobody's profile knows of it.
TEST_F(CardPageTest, PracticeLeadsThroughTheCardAndStoresNothing) {
  home_.context().open_card_source = Practising;
  MainWindow& window = home_.Open(/*practice=*/true);
  const Profile before = home_.context().profile;
  Take("card");
  ASSERT_EQ(window.shown(), PageId::kCard);
  const auto& practised = PracticeCardOf(home_.context()).context();
  const auto through = [&](const char* part, PageId page) {
    Take(part);
    ASSERT_EQ(window.shown(), page);
    EXPECT_TRUE(Practises(window));
    // Nobody measures a print in practice.
    if (page != PageId::kCardCamera) window.page()->findChild<QPushButton*>("unchecked")->click();
    // The simulated person of the practice has it on the nose after 13 s of its clock.
    if (page == PageId::kCardTouch) PressAt(window, 15);
    ASSERT_TRUE(RunUntil([&] { return NextOf(window) == "Continue"; })) << part;
    PressKey(window, Qt::Key_Return);
    ASSERT_TRUE(RunUntil([&] { return window.shown() == PageId::kCard; }, 100));
  };
  through("camera", PageId::kCardCamera);
  EXPECT_NEAR(practised.profile.camera.fx / CardPracticeCamera().fx, 1, 0.005);
  through("face", PageId::kCardFace);
  EXPECT_NEAR(practised.profile.face.distance_pd->value.mm() / 62, 1, 0.015);
  through("touch", PageId::kCardTouch);
  EXPECT_TRUE(practised.profile.held_card && practised.profile.held_card->zero);

  EXPECT_FALSE(Stored());
  EXPECT_EQ(SerializeProfile(home_.context().profile), SerializeProfile(before));
  EXPECT_FALSE(home_.context().calibrated);
  window.Show(PageId::kHome);
  window.page()->findChild<QPushButton*>("practice")->click();
  QCoreApplication::processEvents();
  EXPECT_FALSE(home_.context().practice);
  EXPECT_FALSE(home_.context().practice_card);
  EXPECT_EQ(window.page()->findChild<QPushButton*>("card"), nullptr);
}

TEST_F(CardPageTest, EscapeLeadsBackAndKeepsNothing) {
  home_.context().open_card_source = [](const AppContext&, CardTask) {
    return ShowCard(drawn::PatternCard());
  };
  MainWindow& window = Open();
  Take("camera");
  PressKey(window, Qt::Key_Escape);
  EXPECT_TRUE(RunUntil([&] { return window.shown() == PageId::kCard; }, 100));
  EXPECT_FALSE(Stored());
  EXPECT_FALSE(home_.live().running());
}

// One number for a screen that nobody measured, wherever it is said.
TEST_F(CardPageTest, ASkippedScreenSizeCostsTheSameOnEachPage) {
  MainWindow& window = Open();
  for (const PageId page : {PageId::kCard, PageId::kCardScreen}) {
    window.Show(page);
    int said = 0;
    for (const QLabel* label : window.page()->findChildren<QLabel*>()) {
      if (!label->text().contains("too large or too small")) continue;
      ++said;
      EXPECT_TRUE(label->text().contains(QString("%1 %").arg(kStatedPercent)))
          << label->text().toStdString();
    }
    EXPECT_EQ(said, 1);
  }
  EXPECT_DOUBLE_EQ(DotSizeOf(*window.page(), home_.context().store).relative_sd,
                   kStatedPercent / 100.0);
}

TEST_F(CardPageTest, ACameraThatIsMissingIsSaid) {
  home_.context().open_card_source = [](const AppContext&, CardTask) -> OpenLiveSource {
    return []() -> Result<LiveSource> {
      return Fail(ErrorCode::kNotFound, "/dev/video0: there is no such camera.");
    };
  };
  MainWindow& window = Open();
  Take("camera");
  ASSERT_TRUE(RunUntil([&] { return !home_.live().running(); }));
  for (int i = 0; i < 10; ++i) QCoreApplication::processEvents();
  EXPECT_EQ(NextOf(window), "Skip");
}

}  // namespace
}  // namespace nearpoint
