#include "app/window/run_window.h"

#include <QApplication>
#include <QDir>
#include <QMessageBox>
#include <QStandardPaths>
#include <cstdlib>

#include "app/keyring/keyring.h"
#include "app/sound/device_sound.h"
#include "app/window/app_context.h"
#include "app/window/begin.h"
#include "app/window/language.h"
#include "app/window/look.h"
#include "app/window/main_window.h"
#include "app/window/words.h"

namespace nearpoint {
namespace {

bool IsSet(const char* variable) {
  const char* const value = std::getenv(variable);
  return value != nullptr && *value != '\0';
}

QString DataFile(const std::string& folder) {
  const QString place = folder.empty()
                            ? QStandardPaths::writableLocation(QStandardPaths::AppDataLocation)
                            : QString::fromStdString(folder);
  return QDir(place).filePath("nearpoint.db");
}

}  // namespace

bool HasDisplay() {
  return IsSet("WAYLAND_DISPLAY") || IsSet("DISPLAY") || IsSet("QT_QPA_PLATFORM");
}

Result<void> RunWindow(int& argc, char** argv, const WindowArguments& arguments) {
  if (!HasDisplay()) {
    return Fail(ErrorCode::kUnavailable,
                "There is no display to open a window on; `nearpoint demo` shows a whole "
                "measurement here in the terminal.");
  }
  QApplication application(argc, argv);
  QApplication::setApplicationName("nearpoint");
  QApplication::setApplicationDisplayName("nearpoint");
  QApplication::setStyle("Fusion");
  auto store = Store::Open(DataFile(arguments.data));
  if (!store) {
    UseLanguage(QString());
    QMessageBox::critical(nullptr, "nearpoint", words::ForError(store.error()));
    return tl::unexpected(store.error());
  }
  UseLanguage(store->Setting("language"));
  look::SetScale(store->Setting("text_percent", "100").toDouble() / 100);
  Live live;
  DeviceSound sound{QLocale()};
  sound.SetOn(store->Setting("sound", "on") == "on");
  AppContext context(*store, live, sound);
  const auto keyring = SystemKeyring();
  context.keyring = keyring.get();
  context.open_source = UsualSource;
  context.open_card_source = CameraForCard;
  MainWindow window(context);
  const PageId first = Begin(context, arguments.practice);
  window.Show(arguments.clinic ? PageId::kClinic : arguments.event ? PageId::kEvent : first);
  window.show();
  QApplication::exec();
  return {};
}

}  // namespace nearpoint
