// A small FHIR server on this computer for tests: takes transactions of PUTs by the rules of the
// standard (hl7.org/fhir/R4/http.html#transaction), keeps what it was given by resource and id, and
// answers searches for DocumentReferences of one type two at a time (hl7.org/fhir/R4/search.html).
// Each request is answered by the next of its moods.
#pragma once

#include <QByteArray>
#include <QSslConfiguration>
#include <QSslSocket>
#include <QTcpServer>
#include <QTcpSocket>
#include <QUrl>
#include <QUrlQuery>
#include <deque>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
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
    kLures,        // a list whose next page is on another server
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

  // With one: answers over TLS alone.
  std::optional<QSslConfiguration> tls;
  std::deque<Mood> moods;  // kTakes when there is none left
  QByteArray token = "secret";
  bool own_ids = false;       // refuses ids that somebody else chose, takes conditional updates
  bool behind_proxy = false;  // the next page's address is that of a host inside
  std::vector<nlohmann::json> patients;  // that a search by identifier finds
  int requests = 0;
  std::map<std::string, nlohmann::json> kept;  // by "Observation/id"
  std::vector<std::string> complaints;         // breaches of the standard

 protected:
  void incomingConnection(qintptr handle) override {
    if (!tls) {
      QTcpServer::incomingConnection(handle);
      return;
    }
    auto* socket = new QSslSocket(this);
    socket->setSocketDescriptor(handle);
    socket->setSslConfiguration(*tls);
    socket->startServerEncryption();
    addPendingConnection(socket);
  }

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
    const bool search = head.startsWith("GET ");
    if (!search && !head.startsWith("POST /fhir ")) complaints.emplace_back("not POST [base]");
    const QByteArray lower = head.toLower();
    if (!search && !lower.contains("content-type: application/fhir+json")) {
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
    const QByteArray target = head.split(' ').value(1);
    if (search && target.startsWith("/fhir/Patient?")) {
      Reply(socket, "200 OK", QByteArray::fromStdString(FindPatient(target)));
      return;
    }
    const std::string answer =
        search ? Search(target, mood == Mood::kLures) : Take(body, mood == Mood::kHalf);
    if (mood == Mood::kLosesAnswer) {
      socket->abort();
      return;
    }
    Reply(socket, answer.empty() ? "400 Bad Request" : "200 OK", QByteArray::fromStdString(answer));
  }

  std::string FindPatient(const QByteArray& target) {
    const QUrlQuery query(QUrl(QString::fromUtf8(target)));
    const QStringList asked = query.queryItemValue("identifier", QUrl::FullyDecoded).split('|');
    nlohmann::json reply{{"resourceType", "Bundle"}, {"type", "searchset"}};
    reply["entry"] = nlohmann::json::array();
    for (const auto& patient : patients) {
      const auto& identifier = patient.at("identifier").at(0);
      if (identifier.at("system") != asked.value(0).toStdString() ||
          identifier.at("value") != asked.value(1).toStdString()) {
        continue;
      }
      reply["entry"].push_back({{"resource", patient}});
    }
    return reply.dump();
  }

  // As a conditional update finds it: by the identifier, or the tag, that the address asks for.
  std::string Conditional(const std::string& url, const nlohmann::json& resource) {
    const QUrlQuery query(QUrl(QString::fromStdString("http://h/" + url)));
    const bool tag = query.hasQueryItem("_tag");
    const QString condition = query.queryItemValue(tag ? "_tag" : "identifier", QUrl::FullyDecoded);
    const auto& carried = tag ? resource["meta"]["tag"][0] : resource["identifier"][0];
    const std::string value = carried.value(tag ? "code" : "value", "");
    if (condition.toStdString() != carried.value("system", "") + "|" + value) {
      complaints.push_back("condition " + url);
    }
    if (resource.contains("id")) complaints.emplace_back("an id in a conditional update");
    return resource.value("resourceType", "") + "/own-" + value;
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
      std::string url = entry.at("request").at("url");
      const bool conditional = url.find('?') != std::string::npos;
      if (own_ids && !conditional) return {};
      const std::string expected =
          resource.value("resourceType", "") + "/" + resource.value("id", "");
      if (entry.at("request").at("method") != "PUT") complaints.emplace_back("not PUT");
      if (conditional) {
        url = Conditional(url, resource);
      } else if (!std::regex_match(url, kUrl) || url != expected) {
        complaints.emplace_back("url " + url);
      }
      const bool there = kept.contains(url);
      kept[url] = resource;
      kept[url]["meta"]["lastUpdated"] =
          "2026-03-14T09:26:" + std::to_string(10 + written_++) + ".000+00:00";
      reply["entry"].push_back({{"response", {{"status", there ? "200 OK" : "201 Created"}}}});
    }
    if (half) reply["entry"][0]["response"]["status"] = "409 Conflict";
    return reply.dump();
  }

  std::string Search(const QByteArray& target, bool lures) {
    const QUrl url(QString::fromUtf8(target));
    const QUrlQuery query(url);
    if (url.path() != "/fhir/DocumentReference") complaints.emplace_back("path");
    const QStringList type = query.queryItemValue("type", QUrl::FullyDecoded).split('|');
    if (type.size() != 2) complaints.emplace_back("type");
    const std::string since =
        query.queryItemValue("_lastUpdated", QUrl::FullyDecoded).mid(2).toStdString();
    const int from = query.queryItemValue("from").toInt();
    nlohmann::json reply{{"resourceType", "Bundle"}, {"type", "searchset"}};
    reply["entry"] = nlohmann::json::array();
    int place = 0;
    bool more = false;
    for (const auto& [name, resource] : kept) {
      if (resource.at("resourceType") != "DocumentReference") continue;
      const auto& coding = resource.at("type").at("coding").at(0);
      if (coding.at("system") != type.value(0).toStdString() ||
          coding.at("code") != type.value(1).toStdString() ||
          resource.at("meta").at("lastUpdated").get<std::string>() < since) {
        continue;
      }
      const int at = place++;
      if (at < from) continue;
      if (at >= from + 2) {
        more = true;
        break;
      }
      reply["entry"].push_back({{"resource", resource}, {"search", {{"mode", "match"}}}});
    }
    if (more || lures) {
      QUrl next(url);
      QUrlQuery changed(query);
      changed.removeQueryItem("from");
      changed.addQueryItem("from", QString::number(from + 2));
      next.setQuery(changed);
      const std::string link = lures          ? "http://192.0.2.1/fhir?page=2"
                               : behind_proxy ? "https://inside.example" +
                                                    next.toString(QUrl::FullyEncoded).toStdString()
                                              : next.toString(QUrl::FullyEncoded).toStdString();
      reply["link"] = {{{"relation", "next"}, {"url", link}}};
    }
    return reply.dump();
  }

  static void Reply(QTcpSocket* socket, const QByteArray& status, const QByteArray& body) {
    socket->write("HTTP/1.1 " + status + "\r\nContent-Type: application/fhir+json\r\n" +
                  "Content-Length: " + QByteArray::number(body.size()) +
                  "\r\nConnection: close\r\n\r\n" + body);
    socket->disconnectFromHost();
  }

  std::map<QTcpSocket*, QByteArray> requests_;
  int written_ = 0;
};

}  // namespace nearpoint
