#include "app/window/look.h"

#include <QFontDatabase>
#include <algorithm>
#include <cmath>

namespace nearpoint::look {
namespace {

double scale = 1;
constexpr double kHeadingGrows = 1.5;
constexpr double kArtGrows = 1.3;

QFont Font(double points, int weight, double most = 2) {
  QFont font;
  // The first that is there; the last is on every Debian.
  font.setFamilies({"Inter", "Noto Sans", "DejaVu Sans"});
  font.setPointSizeF(points * std::min(scale, most));
  font.setWeight(static_cast<QFont::Weight>(weight));
  return font;
}

}  // namespace

double Scale() { return scale; }
bool IsLarge() {
  constexpr double kLarge = 1.4;
  return Scale() > kLarge;
}

void SetScale(double wanted) { scale = std::clamp(wanted, 1.0, 2.0); }
int Px(double at_100_percent) { return static_cast<int>(std::lround(at_100_percent * scale)); }

int Art(double at_100_percent) {
  return static_cast<int>(std::lround(at_100_percent * std::min(scale, kArtGrows)));
}

QFont Body() { return Font(14, QFont::Normal); }
QFont Large() { return Font(17.5, QFont::Normal); }
QFont Heading() { return Font(25, QFont::DemiBold, kHeadingGrows); }
QFont Huge() { return Font(44, QFont::DemiBold, kArtGrows); }

QString StyleSheet() {
  const auto rgb = [](const QColor& color) { return color.name(); };
  QString sheet = R"(
    QMainWindow, QDialog, #paper { background: @paper; }
    QWidget { color: @ink; }
    QScrollArea { background: transparent; border: none; }
    #scrolled { background: transparent; }
    QLabel[role="quiet"] { color: @quiet; }
    QLabel[role="name"] { color: @deep; font-weight: 600; }
    QLabel[role="tag"] { background: @warmsoft; color: @warm; border-radius: @px8; padding: @px3 @px10; font-weight: 600; }
    QLabel[role="stop"] { background: @stopsoft; color: @stop; border-radius: @px10; padding: @px14; font-weight: 500; }
    QLabel[role="warm"] { background: @warmsoft; color: @warm; border-radius: @px10; padding: @px12; }
    QLabel[role="soft"] { background: @soft; color: @deep; border-radius: @px10; padding: @px12; }
    QFrame[role="card"] { background: @card; border: 1px solid @line; border-radius: @px14; }
    #bar { background: @paper; border-bottom: 1px solid @line; }
    #footer { background: @paper; border-top: 1px solid @line; }
    QPushButton { background: transparent; border: 2px solid transparent; border-radius: @px10;
      padding: @px9 @px16; color: @deep; }
    QPushButton:hover { background: @soft; }
    QPushButton:focus { border-color: @deep; }
    QPushButton[role="next"] { background: @deep; color: white; padding: @px12 @px28; font-weight: 600; border: 2px solid @deep; }
    QPushButton[role="next"]:hover { background: @deephover; }
    QPushButton[role="next"]:focus { border: 2px solid @warm; }
    QPushButton[role="next"]:disabled { background: @line; border-color: @line; color: @quiet; }
    QPushButton[role="choice"] { background: @card; border: 2px solid @line; text-align: left; padding: @px16 @px20; color: @ink; }
    QPushButton[role="choice"]:hover { background: @soft; }
    QPushButton[role="choice"]:focus { border-color: @deep; }
    QPushButton[role="choice"]:checked { background: @soft; border-color: @deep; }
    QPushButton[role="way_out"] { border: 2px solid @line; background: @card; padding: @px10 @px20; }
    QPushButton[role="way_out"]:hover { background: @soft; }
    QLineEdit, QComboBox, QAbstractSpinBox { background: @card; border: 2px solid @line; border-radius: @px8;
      padding: @px8 @px12; min-height: @px24; selection-background-color: @deep; }
    QLineEdit:focus, QComboBox:focus, QAbstractSpinBox:focus { border-color: @deep; }
    QComboBox::drop-down { border: none; width: @px36; }
    QProgressBar { background: @card; color: @ink; border: 2px solid @line; border-radius: @px6;
                   text-align: center; padding: @px3; }
    QProgressBar::chunk { background: @soft; border-radius: @px4; }
    QCheckBox, QRadioButton { spacing: @px10; padding: @px4; border: 2px solid transparent; border-radius: @px6; }
    QCheckBox:focus, QRadioButton:focus { border-color: @deep; }
    QCheckBox::indicator, QRadioButton::indicator { width: @px20; height: @px20; }
    QListWidget { background: @card; border: 1px solid @line; border-radius: @px10; padding: @px6; }
    QListWidget::item { padding: @px10; border-radius: @px6; }
    QListWidget::item:selected { background: @soft; color: @ink; }
    QScrollBar:vertical { background: transparent; width: @px12; margin: 0; }
    QScrollBar::handle:vertical { background: @line; border-radius: @px6; min-height: @px40; }
    QScrollBar::add-line, QScrollBar::sub-line { height: 0; }
  )";
  const struct {
    const char* name;
    QColor color;
  } colors[] = {{"@paper", kPaper},       {"@card", kCard},    {"@ink", kInk},
                {"@quiet", kQuietInk},    {"@line", kLine},    {"@deephover", kDeepHover},
                {"@deep", kDeep},         {"@softink", kDeep}, {"@soft", kSoft},
                {"@warmsoft", kWarmSoft}, {"@warm", kWarm},    {"@stopsoft", kStopSoft},
                {"@stop", kStop}};
  for (const auto& [name, color] : colors) {
    // "@soft" must not eat the beginning of a longer name: names end at a blank or a semicolon.
    sheet.replace(QString(name) + ";", rgb(color) + ";");
    sheet.replace(QString(name) + " ", rgb(color) + " ");
  }
  for (const int px : {40, 36, 28, 24, 20, 16, 14, 12, 10, 9, 8, 6, 4, 3}) {
    const QString name = QString("@px%1").arg(px);
    sheet.replace(name + ";", QString("%1px;").arg(Px(px)));
    sheet.replace(name + " ", QString("%1px ").arg(Px(px)));
  }
  return sheet;
}

}  // namespace nearpoint::look
