// A small FHIR server on this computer for tests: takes transactions of PUTs by the rules of the
// standard (hl7.org/fhir/R4/http.html#transaction) and keeps what it was given by resource and id.
// Each request is answered by the next of its moods.
#pragma once

#include <QByteArray>
#include <QTcpServer>
#include <QTcpSocket>
#include <deque>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <string>
#include <vector>

namespace nearpoint {

class FhirServerForTests : public QTcpServer {
 public:
  enum class Mood {
    kTakes,
    kBusy,         // 503 with Retry-After: 0, nothing kept
    kLosesAnswer,  // kept, but the connection breaks before the answer
    kHangsUp,      // nothing kept, the connection breaks
    kRefuses,      // 422 with an OperationOutcome
    kElsewhere,    // a redirect
    kHalf,         // 200, but one entry failed
  };

  FhirServerForTests() {
    if (!listen(QHostAddress::LocalHost)) qFatal("no port");
    connect(this, &QTcpServer::newConnection, this, [this] {
      QTcpSocket* const socket = nextPendingConnection();
      connect(socket, &QTcpSocket::readyRead, this, [this, socket] { Read(socket); });
      connect(socket, &QTcpSocket::disconnected, this, [this, socket] {
        requests_.erase(socket);
        socket->deleteLater();
      });
    });
  }

  std::deque<Mood> moods;  // kTakes when there is none left
  QByteArray token = "secret";
  int requests = 0;
  std::map<std::string, nlohmann::json> kept;  // by "Observation/id"
  std::vector<std::string> complaints;         // breaches of the standard

 private:
  void Read(QTcpSocket* socket) {
    QByteArray& request = requests_[socket];
    request += socket->readAll();
    const auto end = request.indexOf("\r\n\r\n");
    if (end < 0) return;
    const QByteArray head = request.left(end).toLower();
    const auto at = head.indexOf("content-length:");
    const int length = at < 0 ? 0 : head.mid(at + 15).split('\r').first().trimmed().toInt();
    if (request.size() < end + 4 + length) return;
    const QByteArray whole = std::exchange(request, QByteArray());
    Answer(socket, whole.left(end), whole.mid(end + 4, length));
  }

  void Answer(QTcpSocket* socket, const QByteArray& head, const QByteArray& body) {
    ++requests;
    Mood mood = Mood::kTakes;
    if (!moods.empty()) {
      mood = moods.front();
      moods.pop_front();
    }
    if (!head.startsWith("POST /fhir ")) complaints.emplace_back("not POST [base]");
    const QByteArray lower = head.toLower();
    if (!lower.contains("content-type: application/fhir+json")) {
      complaints.emplace_back("Content-Type");
    }
    if (!head.contains("Bearer " + token)) {
      Reply(socket, "401 Unauthorized", "");
      return;
    }
    switch (mood) {
      case Mood::kBusy:
        Reply(socket, "503 Service Unavailable\r\nRetry-After: 0", "");
        return;
      case Mood::kHangsUp:
        socket->abort();
        return;
      case Mood::kRefuses:
        Reply(socket, "422 Unprocessable Entity",
              R"({"resourceType": "OperationOutcome", "issue": [{"severity": "error",
                  "code": "invalid", "diagnostics": "subject is unknown here"}]})");
        return;
      case Mood::kElsewhere:
        Reply(socket, "302 Found\r\nLocation: http://example.org/", "");
        return;
      default:
        break;
    }
    const std::string answer = Take(body, mood == Mood::kHalf);
    if (mood == Mood::kLosesAnswer) {
      socket->abort();
      return;
    }
    Reply(socket, answer.empty() ? "400 Bad Request" : "200 OK", QByteArray::fromStdString(answer));
  }

  std::string Take(const QByteArray& body, bool half) {
    const auto bundle = nlohmann::json::parse(body.toStdString(), nullptr, false);
    if (!bundle.is_object() || bundle.value("resourceType", "") != "Bundle" ||
        bundle.value("type", "") != "transaction") {
      complaints.emplace_back("no transaction Bundle");
      return {};
    }
    static const std::regex kUrl("[A-Z][A-Za-z]+/[A-Za-z0-9\\-.]{1,64}");
    nlohmann::json reply{{"resourceType", "Bundle"}, {"type", "transaction-response"}};
    reply["entry"] = nlohmann::json::array();
    for (const auto& entry : bundle.at("entry")) {
      const auto& resource = entry.at("resource");
      const std::string url = entry.at("request").at("url");
      const std::string expected =
          resource.value("resourceType", "") + "/" + resource.value("id", "");
      if (entry.at("request").at("method") != "PUT") complaints.emplace_back("not PUT");
      if (!std::regex_match(url, kUrl) || url != expected) complaints.emplace_back("url " + url);
      const bool there = kept.contains(url);
      kept[url] = resource;
      reply["entry"].push_back({{"response", {{"status", there ? "200 OK" : "201 Created"}}}});
    }
    if (half) reply["entry"][0]["response"]["status"] = "409 Conflict";
    return reply.dump();
  }

  static void Reply(QTcpSocket* socket, const QByteArray& status, const QByteArray& body) {
    socket->write("HTTP/1.1 " + status + "\r\nContent-Type: application/fhir+json\r\n" +
                  "Content-Length: " + QByteArray::number(body.size()) +
                  "\r\nConnection: close\r\n\r\n" + body);
    socket->disconnectFromHost();
  }

  std::map<QTcpSocket*, QByteArray> requests_;
};

}  // namespace nearpoint
