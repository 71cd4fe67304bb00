// The one window: a quiet bar on top (who, practice or not, settings) and one page at a time.
#pragma once

#include <QMainWindow>
#include <functional>
#include <map>

#include "app/window/page.h"

class QLabel;
class QVBoxLayout;

namespace nearpoint {

struct AppContext;

using PageMaker = std::function<Page*(AppContext& context, QWidget* parent)>;

class MainWindow : public QMainWindow {
  Q_OBJECT

 public:
  explicit MainWindow(AppContext& context, QWidget* parent = nullptr);
  ~MainWindow() override;

  // A page that is not the window's own (the exercise, say) joins here, before it is shown.
  void AddPage(PageId id, PageMaker maker);

  // Leaves the page that is shown and makes the other; for a measurement or an exercise, the
  // questions before it come first (safety_gate.h).
  void Show(PageId wanted);
  [[nodiscard]] PageId shown() const { return shown_; }
  [[nodiscard]] Page* page() const { return page_; }

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;
  void closeEvent(QCloseEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;

 private:
  void MakeBar();
  void MakeUnwritten();
  void RefreshUnwritten();
  void RefreshBar();
  void ApplyLook();
  bool TakePress(QEvent* event);

  AppContext& context_;
  std::map<PageId, PageMaker> makers_;
  PageId shown_ = PageId::kHome;
  Page* page_ = nullptr;
  QWidget* bar_ = nullptr;
  QWidget* unwritten_ = nullptr;  // what the store did not take
  bool close_anyway_ = false;     // that was said when the window was to be closed
  QLabel* who_ = nullptr;
  QLabel* practice_ = nullptr;
  QWidget* place_ = nullptr;
  QVBoxLayout* place_layout_ = nullptr;
};

}  // namespace nearpoint
