#include "app/exchange/fhir.h"

#include <gmock/gmock.h>

#include <cstdlib>
#include <map>
#include <set>
#include <string>

#include "app/exchange/fhir_mailbox.h"
#include "tests/support/result_matchers.h"
#include "tests/support/temp_folder.h"

namespace nearpoint {
namespace {

using nlohmann::json;
using testing::AllOf;
using testing::HasSubstr;

json TrialJson(double mm, const char* censored = nullptr) {
  json trial = {{"break_mm", mm},      {"break_sd_mm", 1},    {"recovery_mm", mm + 25},
                {"recovery_sd_mm", 1}, {"censored", nullptr}, {"approach_speed_mm_s", 15},
                {"set_aside", nullptr}};
  if (censored != nullptr) {
    trial["censored"] = censored;
    trial["recovery_mm"] = nullptr;
  }
  return trial;
}

// A session file with its estimate, as the program writes it.
std::string SessionText(const std::vector<json>& trials, const json& started_at) {
  json document = {{"schema", "nearpoint/session/1"},
                   {"started_at", started_at},
                   {"software", "nearpoint 0.1.0"},
                   {"source", "video clip.avi"},
                   {"trials", trials},
                   {"cautions", {"Fewer than three trials."}}};
  const auto read = ParseSessionTrials(document.dump(), "s.json");
  Session session;
  session.trials = read->trials;
  session.estimate = EstimateNearPoint(session.trials, session.shared);
  session.cut_off_from = "Adults, 5 cm and 7 cm";
  document["estimate"] = json::parse(SerializeSession(session))["estimate"];
  return document.dump();
}

FhirOptions Options() {
  FhirOptions options;
  options.subject = "P01";
  options.recorded = "2026-03-02T08:00:00Z";
  return options;
}

json BundleOf(const std::string& text, const FhirOptions& options = Options()) {
  const auto session = ParseStoredSession(text, "s.json");
  EXPECT_THAT(session, IsOk());
  const auto bundle = SessionToFhir(*session, text, options);
  EXPECT_THAT(bundle, IsOk());
  return json::parse(bundle->dump());
}

json ResourceOf(const json& bundle, const std::string& type) {
  for (const json& entry : bundle["entry"]) {
    if (entry["resource"]["resourceType"] == type) return entry["resource"];
  }
  ADD_FAILURE() << "no " << type;
  return {};
}

json ComponentOf(const json& bundle, const std::string& code) {
  const json observation = ResourceOf(bundle, "Observation");
  for (const json& component : observation["component"]) {
    if (component["code"]["coding"][0]["code"] == code) return component;
  }
  return nullptr;
}

const std::string kUsual =
    SessionText({TrialJson(95), TrialJson(99), TrialJson(97)}, "2026-03-02T07:45:00+01:00");

TEST(FhirTest, TheObservationHoldsTheNearPoint) {
  const json bundle = BundleOf(kUsual);
  EXPECT_EQ(bundle["type"], "collection");
  const json observation = ResourceOf(bundle, "Observation");
  EXPECT_EQ(observation["status"], "preliminary");
  EXPECT_EQ(observation["effectiveDateTime"], "2026-03-02T07:45:00+01:00");
  EXPECT_EQ(observation["subject"]["identifier"]["value"], "P01");
  EXPECT_THAT(observation["method"]["text"].get<std::string>(),
              AllOf(HasSubstr("15 mm/s"), HasSubstr("3 of 3 trials"), HasSubstr("corneal plane")));
  const json at_break = ComponentOf(bundle, "break");
  EXPECT_NEAR(at_break["valueQuantity"]["value"].get<double>(), 97, 0.1);
  EXPECT_EQ(at_break["valueQuantity"]["system"], "http://unitsofmeasure.org");
  EXPECT_EQ(at_break["valueQuantity"]["code"], "mm");
  EXPECT_FALSE(at_break["valueQuantity"].contains("comparator"));
  EXPECT_EQ(at_break["referenceRange"][0]["high"]["value"], 63.5);
  EXPECT_THAT(at_break["referenceRange"][0]["text"].get<std::string>(), HasSubstr("Adults"));
  const json band = ComponentOf(bundle, "break-band");
  EXPECT_LT(band["valueRange"]["low"]["value"], 97);
  EXPECT_GT(band["valueRange"]["high"]["value"], 97);
  EXPECT_THAT(observation["note"].dump(), HasSubstr("not a diagnosis"));
  EXPECT_EQ(ResourceOf(bundle, "Device")["version"][0]["value"], "nearpoint 0.1.0");
  FhirOptions reviewed = Options();
  reviewed.reviewed = true;
  EXPECT_EQ(ResourceOf(BundleOf(kUsual, reviewed), "Observation")["status"], "final");
}

TEST(FhirTest, ABoundHasAComparator) {
  const json nose =
      BundleOf(SessionText({TrialJson(50, "below"), TrialJson(51, "below")}, nullptr));
  EXPECT_EQ(ComponentOf(nose, "break")["valueQuantity"]["comparator"], "<");
  EXPECT_GT(ComponentOf(nose, "break")["valueQuantity"]["value"], 51);
  EXPECT_FALSE(ComponentOf(nose, "recovery").contains("valueQuantity"));
  EXPECT_TRUE(ComponentOf(nose, "recovery").contains("dataAbsentReason"));
  EXPECT_FALSE(ResourceOf(nose, "Observation").contains("effectiveDateTime"));
  const json far = BundleOf(SessionText({TrialJson(300, "above")}, nullptr));
  EXPECT_EQ(ComponentOf(far, "break")["valueQuantity"]["comparator"], ">");
  EXPECT_FALSE(ComponentOf(far, "break-band")["valueRange"].contains("high"));
}

TEST(FhirTest, EveryReferenceIsInTheBundle) {
  const json bundle = BundleOf(kUsual);
  std::set<std::string> there, asked;
  for (const json& entry : bundle["entry"]) there.insert(entry["fullUrl"]);
  EXPECT_EQ(there.size(), 4u);
  const std::function<void(const json&)> collect = [&](const json& node) {
    if (node.is_object() && node.contains("reference")) asked.insert(node["reference"]);
    if (node.is_structured()) {
      for (const json& child : node) collect(child);
    }
  };
  collect(bundle);
  EXPECT_FALSE(asked.empty());
  for (const std::string& reference : asked) EXPECT_TRUE(there.contains(reference)) << reference;
}

TEST(FhirTest, OnlyOurOwnCodesAndThoseOfTheStandard) {
  std::set<std::string> own;
  const json codes = json::parse(CodeSystemToFhir().dump());
  for (const json& code : codes["concept"]) own.insert(code["code"]);
  const std::function<void(const json&)> check = [&](const json& node) {
    if (node.is_object() && node.contains("system") && node.contains("code")) {
      const std::string system = node["system"];
      if (system == kCodeSystem) {
        EXPECT_TRUE(own.contains(node["code"].get<std::string>())) << node;
      } else {
        // The last is that of a tag by which a resource without identifiers is found.
        EXPECT_THAT(system,
                    testing::AnyOf("http://unitsofmeasure.org", std::string(kIdentifierSystem),
                                   HasSubstr("http://terminology.hl7.org/CodeSystem/")));
      }
    }
    if (node.is_structured()) {
      for (const json& child : node) check(child);
    }
  };
  check(BundleOf(kUsual));
}

TEST(FhirTest, TheSameSessionHasTheSameIdentifiers) {
  FhirOptions options = Options();
  options.transaction = true;
  const json once = BundleOf(kUsual, options);
  EXPECT_EQ(BundleOf(kUsual, options), once);
  EXPECT_EQ(once["type"], "transaction");
  for (const json& entry : once["entry"]) {
    EXPECT_EQ(entry["request"]["method"], "PUT");
    EXPECT_EQ(entry["request"]["url"].get<std::string>(),
              entry["resource"]["resourceType"].get<std::string>() + "/" +
                  entry["resource"]["id"].get<std::string>());
    EXPECT_EQ(entry["fullUrl"], "urn:uuid:" + entry["resource"]["id"].get<std::string>());
  }
  const std::string other = SessionText({TrialJson(96), TrialJson(99)}, nullptr);
  EXPECT_NE(BundleOf(other, options)["entry"][1]["fullUrl"], once["entry"][1]["fullUrl"]);
}

// A server that rewrites references rewrites everything that reads like one; an identifier must
// not.
TEST(FhirTest, AnIdentifierIsABareUuid) {
  const json bundle = BundleOf(kUsual);
  EXPECT_THAT(bundle["identifier"]["value"].get<std::string>(), testing::SizeIs(36));
  for (const json& entry : bundle["entry"]) {
    const json& resource = entry["resource"];
    const std::string value = resource.contains("identifier")
                                  ? resource["identifier"][0]["value"].get<std::string>()
                                  : resource["meta"]["tag"][0]["code"].get<std::string>();
    EXPECT_EQ(entry["fullUrl"], "urn:uuid:" + value) << resource["resourceType"];
  }
}

TEST(FhirTest, OneDeviceForAnInstallationAndTheRestForEachMeasurement) {
  FhirOptions options = Options();
  options.transaction = true;
  options.installation = "laptop A";
  const std::string other = SessionText({TrialJson(96), TrialJson(99)}, nullptr);
  const auto url = [](const json& bundle, int entry) { return bundle["entry"][entry]["fullUrl"]; };
  const json once = BundleOf(kUsual, options);
  const json twice = BundleOf(other, options);
  EXPECT_EQ(url(once, 0), url(twice, 0));
  EXPECT_EQ(ResourceOf(twice, "Observation")["device"]["reference"], url(once, 0));
  options.installation = "laptop B";
  EXPECT_NE(url(BundleOf(kUsual, options), 0), url(once, 0));
  // Two children whose sessions read alike.
  options.entry = "record 1";
  const json first = BundleOf(kUsual, options);
  options.entry = "record 2";
  for (const int entry : {1, 2, 3})
    EXPECT_NE(url(BundleOf(kUsual, options), entry), url(first, entry));
}

TEST(FhirTest, AChartCanShowWhoseItIs) {
  const json subject = ResourceOf(BundleOf(kUsual), "Observation")["subject"];
  EXPECT_EQ(subject["identifier"]["value"], "P01");
  EXPECT_EQ(subject["display"], "P01");
}

TEST(FhirTest, TimesAreAsTheStandardHasThem) {
  const std::pair<const char*, const char*> cases[] = {
      {"2026-03-02", "2026-03-02"},
      {"2026-03-02T07:45", "2026-03-02"},  // no offset: only the day is certain
      {"2026-03-02T07:45:10", "2026-03-02"},
      {"2026-03-02T07:45Z", "2026-03-02T07:45:00Z"},
      {"2026-03-02 07:45:10-05:30", "2026-03-02T07:45:10-05:30"}};
  for (const auto& [written, shown] : cases) {
    const json bundle = BundleOf(SessionText({TrialJson(96), TrialJson(99)}, written));
    EXPECT_EQ(ResourceOf(bundle, "Observation")["effectiveDateTime"], shown) << written;
  }
}

TEST(FhirTest, RefusesWhatDoesNotBelongInARecord) {
  auto session = *ParseStoredSession(kUsual, "s.json");
  FhirOptions options = Options();
  options.subject = "";
  EXPECT_THAT(SessionToFhir(session, kUsual, options),
              FailsWith(ErrorCode::kBadValue, HasSubstr("pseudonym")));
  options = Options();
  options.recorded = "2026-03-02";
  EXPECT_THAT(SessionToFhir(session, kUsual, options),
              FailsWith(ErrorCode::kBadValue, HasSubstr("2026-03-02T07:45:00Z")));
  session.source = "simulated patient";
  EXPECT_THAT(SessionToFhir(session, kUsual, Options()),
              FailsWith(ErrorCode::kBadValue, HasSubstr("simulated")));
}

TEST(FhirTest, AnOutsideValidatorAccepts) {
  if (std::system("node --version > /dev/null 2>&1") != 0) {
    GTEST_SKIP() << "node is not installed; sh tests/run says how this check is made.";
  }
  const std::string modules = NEARPOINT_NPM_FOLDER "/node_modules";
  if (!std::filesystem::exists(modules + "/fhir")) {
    GTEST_SKIP() << "The npm package fhir is not in build/npm; sh tests/run fetches it.";
  }
  const TempFolder work;
  FhirOptions transaction = Options();
  transaction.transaction = true;
  transaction.reviewed = true;
  std::string files;
  const auto add = [&](const char* name, const json& document) {
    files += " '" + work.Write(name, document.dump()) + "'";
  };
  add("usual.json", BundleOf(kUsual));
  add("transaction.json", BundleOf(kUsual, transaction));
  add("nose.json", BundleOf(SessionText({TrialJson(50, "below")}, "2026-03-02")));
  add("far.json", BundleOf(SessionText({TrialJson(300, "above")}, nullptr)));
  add("none.json", BundleOf(SessionText({}, "2026-03-02T07:45Z")));
  add("codes.json", json::parse(CodeSystemToFhir().dump()));
  add("sealed.json", json::parse(SealedToFhir(ViewOf("NPSEALED"), "2026-03-02T07:45:00Z").dump()));
  const std::string run = "NODE_PATH='" + modules + "' node '" NEARPOINT_VALIDATE_FHIR "'";
  EXPECT_EQ(std::system((run + files).c_str()), 0);
  // The judge does judge.
  json wrong = BundleOf(kUsual);
  wrong["entry"][1]["resource"]["status"] = "finished";
  EXPECT_NE(
      std::system((run + " '" + work.Write("wrong.json", wrong.dump()) + "' > /dev/null").c_str()),
      0);
}

}  // namespace
}  // namespace nearpoint
