// What is pushed and fetched, held against a general FHIR server of somebody else's making, which
// rewrites references and gives ids of its own (general_server.js).
#include <gmock/gmock.h>

#include <QCoreApplication>
#include <QEventLoop>
#include <QNetworkAccessManager>
#include <QNetworkReply>
#include <QProcess>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "app/exchange/fhir.h"
#include "app/exchange/fhir_mailbox.h"
#include "app/fhir_push/fhir_fetch.h"
#include "app/fhir_push/fhir_push.h"
#include "tests/support/clinic_sessions.h"
#include "tests/support/result_matchers.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::SizeIs;

constexpr const char* kRecordSystem = "urn:oid:1.2.3";

class GeneralServerTest : public testing::Test {
 protected:
  // False where the packages are not there; then the test is skipped.
  bool Begin(const QStringList& options = {}) {
    const std::string modules = NEARPOINT_NPM_FOLDER "/node_modules";
    if (!std::filesystem::exists(modules + "/@medplum/fhir-router") ||
        !std::filesystem::exists(modules + "/@medplum/mock")) {
      return false;
    }
    QProcessEnvironment environment = QProcessEnvironment::systemEnvironment();
    environment.insert("NODE_PATH", QString::fromStdString(modules));
    server_.setProcessEnvironment(environment);
    server_.setProcessChannelMode(QProcess::ForwardedErrorChannel);
    server_.start("node", QStringList{NEARPOINT_GENERAL_SERVER} + options);
    constexpr int kPatience = 90000;  // reading the definitions takes a slow machine some seconds
    while (!server_.canReadLine() && server_.waitForReadyRead(kPatience)) {
    }
    base_ = "http://127.0.0.1:" + server_.readLine().trimmed() + "/fhir";
    return true;
  }
  ~GeneralServerTest() override {
    if (server_.state() == QProcess::NotRunning) return;
    server_.closeWriteChannel();
    if (!server_.waitForFinished(5000)) server_.kill();
    server_.waitForFinished();
  }
  [[nodiscard]] FhirServer Address(const QByteArray& token = "secret") const {
    return {QUrl(QString::fromUtf8(base_)), token};
  }
  Result<int> Send(const QByteArray& transaction, const QByteArray& token = "secret") {
    FhirPush push(Address(token), {2, 1, 20000});
    std::optional<Result<int>> result;
    QEventLoop loop;
    QObject::connect(&push, &FhirPush::Done, &loop, [&](int tried) {
      result = tried;
      loop.quit();
    });
    QObject::connect(&push, &FhirPush::Failed, &loop, [&](const Error& error) {
      result = tl::unexpected(error);
      loop.quit();
    });
    push.Send(transaction);
    if (!result) loop.exec();
    return *result;
  }
  static QByteArray Transaction(const SentSession& sent = {}, bool reviewed = false) {
    const std::string text = SessionText(sent);
    FhirOptions options;
    options.subject = "N-2041";
    options.subject_system = kRecordSystem;
    options.installation = "laptop of Mira";
    options.recorded = "2026-03-14T09:26:00Z";
    options.reviewed = reviewed;
    options.transaction = true;
    const auto session = ParseStoredSession(text, "session.json");
    return QByteArray::fromStdString(SessionToFhir(*session, text, options)->dump());
  }
  // The resources that a search of another client finds, with a browser's means.
  std::vector<json> Found(const QString& query, const QByteArray& body = {}) {
    QNetworkAccessManager network;
    QNetworkRequest request(QUrl(QString::fromUtf8(base_) + "/" + query));
    request.setRawHeader("Authorization", "Bearer secret");
    request.setHeader(QNetworkRequest::ContentTypeHeader, "application/fhir+json");
    QNetworkReply* reply = body.isEmpty() ? network.get(request) : network.post(request, body);
    QEventLoop loop;
    QObject::connect(reply, &QNetworkReply::finished, &loop, &QEventLoop::quit);
    loop.exec();
    const json bundle = json::parse(reply->readAll().toStdString(), nullptr, false);
    std::vector<json> resources;
    if (!bundle.is_object() || !bundle.contains("entry")) return resources;
    for (const json& entry : bundle["entry"]) resources.push_back(entry["resource"]);
    return resources;
  }
  void PushedTwiceIsThereOnce() {
    static_cast<void>(
        Found("Patient", R"({"resourceType": "Patient", "identifier": [{"system": "urn:oid:1.2.3",
                             "value": "N-2041"}]})"));
    ASSERT_THAT(Found("Patient"), SizeIs(1));
    ASSERT_THAT(Send(Transaction()), IsOk());
    ASSERT_THAT(Send(Transaction({}, /*reviewed=*/true)), IsOk());
    const auto observations = Found("Observation");
    ASSERT_THAT(observations, SizeIs(1));
    EXPECT_EQ(observations[0]["status"], "final");
    // Found again by the identifier that it was sent with.
    const json identifier = observations[0]["identifier"][0];
    EXPECT_EQ(identifier["system"], kIdentifierSystem);
    const std::string value = identifier["value"];
    EXPECT_THAT(Found("Observation?identifier=" + QString::fromStdString(value)), SizeIs(1));
    EXPECT_EQ(value.size(), 36u);
    // A chart asks for what is of this patient.
    const std::string patient = "Patient/" + Found("Patient")[0]["id"].get<std::string>();
    EXPECT_EQ(observations[0]["subject"]["reference"], patient);
    EXPECT_THAT(Found("Observation?subject=" + QString::fromStdString(patient)), SizeIs(1));
    EXPECT_THAT(Found("Provenance"), SizeIs(1));
    // Another session of the same installation is of the same device.
    SentSession other;
    other.breaks_mm = {50, 51, 52};
    ASSERT_THAT(Send(Transaction(other)), IsOk());
    EXPECT_THAT(Found("Observation"), SizeIs(2));
    const auto devices = Found("Device");
    ASSERT_THAT(devices, SizeIs(1));
    for (const json& observation : Found("Observation")) {
      EXPECT_EQ(observation["device"]["reference"],
                "Device/" + devices[0]["id"].get<std::string>());
    }
  }

  int argc_ = 0;
  QCoreApplication application_{argc_, nullptr};
  QProcess server_;
  QByteArray base_;
};

#define SKIP_WITHOUT_PACKAGES(...)                                             \
  if (!Begin(__VA_ARGS__)) {                                                   \
    GTEST_SKIP() << "The npm packages @medplum/fhir-router and @medplum/mock " \
                    "are not in build/npm; sh tests/run fetches them.";        \
  }                                                                            \
  ASSERT_NE(base_, "http://127.0.0.1:/fhir") << "The server did not start."

TEST_F(GeneralServerTest, WhatIsPushedTwiceIsThereOnceAndIsFound) {
  SKIP_WITHOUT_PACKAGES();
  PushedTwiceIsThereOnce();
  const auto wrong = Send(Transaction(), "a wrong one");
  EXPECT_THAT(wrong, FailsWith(ErrorCode::kNotWritable, HasSubstr("token is not accepted")));
  EXPECT_THAT(wrong.error().message, HasSubstr("Unauthorized"));
}

TEST_F(GeneralServerTest, AServerThatForbidsChosenIdsTakesTheSame) {
  SKIP_WITHOUT_PACKAGES({"no-chosen-ids"});
  PushedTwiceIsThereOnce();
}

TEST_F(GeneralServerTest, SealedFilesComeBackPageByPage) {
  SKIP_WITHOUT_PACKAGES({"no-chosen-ids", "foreign-links"});
  constexpr int kFiles = 23;  // three pages
  for (int i = 0; i < kFiles; ++i) {
    const std::string sealed = "sealed file " + std::to_string(i);
    const auto bundle = SealedToFhir(ViewOf(sealed), "2026-03-14T09:26:00Z");
    ASSERT_THAT(Send(QByteArray::fromStdString(bundle.dump())), IsOk());
  }
  FhirFetch fetch(Address(), {2, 1, 20000});
  std::set<std::string> files;
  int pages = 0;
  std::optional<Error> error;
  QEventLoop loop;
  QObject::connect(&fetch, &FhirFetch::Arrived, &loop, [&](const SealedFilesPage& page) {
    ++pages;
    for (const auto& file : page.files) files.insert(TextOf(file.sealed));
  });
  QObject::connect(&fetch, &FhirFetch::Done, &loop, &QEventLoop::quit);
  QObject::connect(&fetch, &FhirFetch::Failed, &loop, [&](const Error& why) {
    error = why;
    loop.quit();
  });
  fetch.Start("");
  loop.exec();
  EXPECT_FALSE(error) << error->message;
  EXPECT_EQ(pages, 3);
  EXPECT_THAT(files, SizeIs(kFiles));
}

}  // namespace
}  // namespace nearpoint
