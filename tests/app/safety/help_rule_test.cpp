// What must be said about double vision that stays is said, in each language, and is what README
// says.
#include "app/safety/help_rule.h"

#include <gmock/gmock.h>

#include <fstream>
#include <sstream>

namespace nearpoint {
namespace {

using testing::HasSubstr;

// One blank between words, whatever the lines.
std::string Flat(const std::string& text) {
  std::istringstream words(text);
  std::string flat;
  for (std::string word; words >> word;) flat += (flat.empty() ? "" : " ") + word;
  return flat;
}

TEST(HelpRule, SendsToTheEmergencyDepartmentAtOnceAndElseToADoctorToday) {
  const std::string english = DoubleVisionRule(WordsIn::kEnglish);
  for (const char* sign : {"suddenly", "drooping lid", "unequal pupils", "weakness", "numbness",
                           "trouble speaking", "blow to the head"}) {
    EXPECT_THAT(english, HasSubstr(sign));
    EXPECT_LT(english.find("emergency department at once"), english.find(sign)) << sign;
    EXPECT_LT(english.find(sign), english.find("Otherwise see a doctor today")) << sign;
  }
  const std::string german = DoubleVisionRule(WordsIn::kGerman);
  for (const char* sign : {"plötzlich", "Lid hängt", "Pupillen ungleich", "Schwäche", "Taubheit",
                           "Sprechen", "Schlag auf den Kopf"}) {
    EXPECT_THAT(german, HasSubstr(sign));
    EXPECT_LT(german.find("sofort in die Notaufnahme"), german.find(sign)) << sign;
    EXPECT_LT(german.find(sign), german.find("noch heute in eine Arztpraxis")) << sign;
  }
}

TEST(HelpRule, TheListsHoldEverySignOfTheRule) {
  const std::pair<WordsIn, std::vector<const char*>> languages[] = {
      {WordsIn::kEnglish,
       {"suddenly", "drooping lid", "unequal", "weakness", "numbness", "speaking",
        "blow to the head", "worse", "Pain", "headache"}},
      {WordsIn::kGerman,
       {"plötzlich", "Lid", "ungleich", "Schwäche", "Taubheit", "Sprechen", "Schlag auf den Kopf",
        "schlechter", "Schmerzen", "Kopfschmerzen"}}};
  for (const auto& [words, signs] : languages) {
    std::string lists;
    for (const std::string& line : EmergencySigns(words)) lists += line + '\n';
    for (const std::string& line : TodaySigns(words)) lists += line + '\n';
    for (const char* sign : signs) {
      EXPECT_THAT(HelpRule(words), HasSubstr(sign));
      const std::string small = std::string(sign) == "Pain" ? "pain" : sign;
      EXPECT_THAT(lists, HasSubstr(small));
    }
    EXPECT_EQ(HelpRule(words), DoubleVisionRule(words) + ' ' + OtherSignsRule(words));
    EXPECT_EQ(StopSigns(words).size(), 3u);
    EXPECT_EQ(OnlyWithProfessional(words).size(), 3u);
  }
  EXPECT_NE(StopRule(WordsIn::kGerman), StopRule(WordsIn::kEnglish));
}

TEST(HelpRule, IsWhatReadmeSays) {
  std::ifstream file(NEARPOINT_README);
  std::ostringstream text;
  text << file.rdbuf();
  const std::string readme = Flat(text.str());
  EXPECT_THAT(readme, HasSubstr(DoubleVisionRule(WordsIn::kEnglish)));
  EXPECT_THAT(readme, HasSubstr(OtherSignsRule(WordsIn::kEnglish)));
  EXPECT_THAT(readme, HasSubstr(StopRule(WordsIn::kEnglish)));
  EXPECT_THAT(readme, HasSubstr(OnlyWithProfessionalRule(WordsIn::kEnglish)));
}

}  // namespace
}  // namespace nearpoint
