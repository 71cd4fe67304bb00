#include "app/window/event/at_event.h"

#include <QCoreApplication>

namespace nearpoint {

QString WhereAtEvent() { return QCoreApplication::translate("AtEvent", "School event"); }

}  // namespace nearpoint
