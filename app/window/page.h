// One page of the window. A page is made when it is shown and destroyed when it is left, so that
// its constructor is its beginning and its destructor its end; what must outlive it is in the store
// or in the AppContext. Pages know each other only by PageId.
#pragma once

#include <QString>
#include <QWidget>

class QKeyEvent;
class QBoxLayout;
class QLabel;
class QPushButton;
class QVBoxLayout;

namespace nearpoint {

struct AppContext;

enum class PageId {
  kWelcome,   // who is it for
  kAbout,     // what it is and is not
  kCautions,  // when not to use it, when to stop
  kSafety,    // the questions before a measurement or an exercise
  kCamera,    // live picture, light, distance
  kCard,      // calibration by the card: what for, and the ways to
  kCardCamera,
  kCardPrint,  // how large the card was printed
  kCardFace,
  kCardTouch,   // the zero of a card that is brought to the nose
  kCardTarget,  // where the letter is
  kCardScreen,  // how large the screen is
  kLag,         // how fast this hand is
  kLearn,       // "two" is not "blurred"
  kHome,        // what to do today
  kMeasure,
  kComfort,  // how do you feel now
  kResult,
  kPast,  // earlier results
  kSettings,
  kDeletePerson,  // everything about the person in front of the window
  kExercise,
  kDiary,
  kEvent,         // a school event: what to do at it
  kEventSetUp,    // its rule and what it will bring
  kEventRoster,   // the list of children
  kStation,       // the next child
  kStationChild,  // that child's measurement
  kStationDone,   // thank you
  kEventAfter,    // who needs what
  kSend,          // measurements to the clinic
  kPlanFile,      // a plan from the clinic
  kClinic,        // for the clinician: who needs a look
  kClinicPatient,
  kClinicSession,
  kClinicReceive,
  kClinicPlan,
  kClinicFindings,
  kClinicSetup,
};

// Heading, a lead sentence, a body that scrolls when the text is large, and a footer with one
// obvious next step at its end and quieter ways beside it.
class Page : public QWidget {
  Q_OBJECT

 public:
  explicit Page(AppContext& context, QWidget* parent = nullptr);

  // For the title bar and the screen reader.
  [[nodiscard]] QString Heading() const;
  // Where Escape and the "Stop" button lead.
  [[nodiscard]] virtual PageId WayOut() const { return PageId::kHome; }
  // While true, every key (but Escape and those with Ctrl or Alt) and every click goes to
  // TakePress instead of the widgets: nobody aims at a button 6 cm from the screen.
  [[nodiscard]] virtual bool TakesEveryPress() const { return false; }
  virtual void TakePress() {}
  // Nothing on it has the keyboard when it is shown: a question whose answers are all alike.
  [[nodiscard]] virtual bool BeginsWithoutFocus() const { return false; }
  // Not for clinicians: on top of the window stands whether this is practice.
  [[nodiscard]] virtual bool ForPatient() const { return true; }
  // What stands on top of the window beside its name: whom this page is about, or where one is.
  [[nodiscard]] virtual QString Who() const;

 signals:
  // nearpoint::MainWindow shows that page next.
  void Wanted(nearpoint::PageId page);
  // The same page or window made anew: another language, another size of the text.
  void LookChanged();

 protected:
  [[nodiscard]] AppContext& context() { return context_; }
  [[nodiscard]] const AppContext& context() const { return context_; }

  void SetHeading(const QString& heading);
  void SetLead(const QString& lead);  // empty hides it
  [[nodiscard]] QVBoxLayout* body() { return body_; }
  // The one obvious next step: large, at the end of the footer, the default of Return.
  QPushButton* SetNext(const QString& text);
  // Return anywhere on the page takes it too.
  void HideNext();
  // A quieter way, at the beginning of the footer.
  QPushButton* AddAside(const QString& text);
  // The same with the page it leads to.
  QPushButton* SetNext(const QString& text, PageId page);
  QPushButton* AddAside(const QString& text, PageId page);
  // One of a few things to do, with how it stands, and the page it leads to.
  void AddChoice(QBoxLayout* to, const char* name, const QString& title, const QString& state,
                 PageId page, bool possible);
  // Above the heading, quiet: "Step 2 of 7".
  void SetStep(const QString& step);
  void keyPressEvent(QKeyEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  void showEvent(QShowEvent* event) override;
  // The page fills the window without scrolling: for the live pages.
  void FillWindow();
  // The heading gives way to what changes, where text is large and nobody can scroll.
  void HideHeading();

 private:
  AppContext& context_;
  QLabel* step_;
  QLabel* heading_;
  QLabel* lead_;
  QWidget* scroll_;
  QVBoxLayout* body_;
  // The quieter ways stand in the footer where there is room, else below what the page says.
  void PlaceAsides();
  void PutAsides(bool below);

  QWidget* footer_;
  QWidget* asides_;
  bool fills_window_ = false;
  bool asides_below_ = false;
  QPushButton* next_ = nullptr;
};

}  // namespace nearpoint
