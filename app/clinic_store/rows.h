// Small things that every part of the clinic's store needs.
#pragma once

#include <QSqlQuery>
#include <QString>
#include <string>
#include <string_view>

#include "vision/core/result.h"

namespace nearpoint::rows {

[[nodiscard]] inline QString ToQt(std::string_view text) {
  return QString::fromUtf8(text.data(), static_cast<qsizetype>(text.size()));
}

// A QString that was never set would be stored as NULL.
[[nodiscard]] inline QString Stored(const QString& text) {
  return text.isNull() ? QString("") : text;
}

// From here on the caller may ignore the query.
[[nodiscard]] inline Result<void> Done(const Result<QSqlQuery>& query) {
  if (!query) return tl::unexpected(query.error());
  return {};
}

}  // namespace nearpoint::rows
