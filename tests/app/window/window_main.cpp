// Tests of windows need one application object for the whole program.
#include <gmock/gmock.h>

#include <QApplication>

#include "app/window/language.h"

int main(int argc, char** argv) {
  testing::InitGoogleMock(&argc, argv);
  QApplication application(argc, argv);
  QApplication::setStyle("Fusion");
  nearpoint::UseLanguage("en");
  return RUN_ALL_TESTS();
}
