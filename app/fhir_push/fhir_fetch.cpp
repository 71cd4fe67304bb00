#include "app/fhir_push/fhir_fetch.h"

#include "app/exchange/seal.h"

namespace nearpoint {
namespace {

// Room for the largest sealed file in base64, and no more than what a computer has to spare.
constexpr qint64 kMostReply = static_cast<qint64>(kMostSealedBytes / 3 * 4) + (8LL << 20);
constexpr int kMostPages = 1000;

// "base/" and what stands behind it, however the base was written.
QUrl Below(const QUrl& base, const std::string& rest) {
  QString text = base.toString();
  while (text.endsWith('/')) text.chop(1);
  return QUrl(text + '/' + QString::fromStdString(rest));
}

}  // namespace

FhirFetch::FhirFetch(FhirServer server, PushPatience patience, QObject* parent)
    : QObject(parent), server_(server), request_(std::move(server), patience, kMostReply) {
  connect(&request_, &FhirRequest::Answered, this, &FhirFetch::Take);
  connect(&request_, &FhirRequest::Failed, this, &FhirFetch::Failed);
  connect(&request_, &FhirRequest::Waiting, this, &FhirFetch::Waiting);
}

void FhirFetch::Start(const std::string& since) {
  pages_ = 0;
  request_.Get(Below(server_.base, SealedFilesQuery(since)));
}

void FhirFetch::Take(const QByteArray& reply) {
  const auto page =
      ReadSealedFilesPage({reply.constData(), static_cast<std::size_t>(reply.size())});
  const std::string host = server_.base.host().toStdString();
  if (!page) {
    emit Failed({page.error().code, host + ": " + page.error().message});
    return;
  }
  emit Arrived(*page);
  if (page->next.empty()) {
    emit Done();
  } else if (++pages_ >= kMostPages) {
    emit Failed({ErrorCode::kBadValue, host + ": its list has no end."});
  } else {
    request_.Get(server_.base.resolved(QUrl(QString::fromStdString(page->next))));
  }
}

}  // namespace nearpoint
