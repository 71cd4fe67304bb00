#include "app/fhir_push/fhir_fetch.h"

#include "app/exchange/seal.h"

namespace nearpoint {
namespace {

// Room for the largest sealed file in base64, and no more than what a computer has to spare.
constexpr qint64 kMostReply = static_cast<qint64>(kMostSealedBytes / 3 * 4) + (8LL << 20);
constexpr int kMostPages = 1000;

// A server behind a proxy may know itself by another name, or not that it is reached over TLS: the
// same list is then asked of the address that was configured. Anything else stays as it is, and
// FhirRequest refuses to follow it elsewhere.
QUrl NextOf(const QUrl& base, const std::string& link) {
  const QUrl next = base.resolved(QUrl(QString::fromStdString(link)));
  const bool here =
      next.scheme() == base.scheme() && next.host() == base.host() && next.port() == base.port();
  if (here || !next.path().endsWith("/DocumentReference") || !next.hasQuery()) return next;
  QUrl same = Below(base, "DocumentReference");
  same.setQuery(next.query(QUrl::FullyEncoded));
  return same;
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
    request_.Get(NextOf(server_.base, page->next));
  }
}

}  // namespace nearpoint
