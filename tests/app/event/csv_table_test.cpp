#include "app/event/csv_table.h"

#include <gmock/gmock.h>

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::SizeIs;

TEST(CsvTableTest, FindsTheSeparatorAndKeepsWhatIsQuoted) {
  const auto table =
      ReadCsvTable("name;class\r\n\"Lee; Ann\";\"3 \"\"b\"\"\"\r\n\r\nBo;4\r\n", "f");
  ASSERT_TRUE(table);
  EXPECT_EQ(table->separator, ';');
  ASSERT_THAT(table->rows, SizeIs(3));
  EXPECT_THAT(table->rows[1].cells, ElementsAre("Lee; Ann", "3 \"b\""));
  EXPECT_EQ(table->rows[1].line, 2);
  EXPECT_EQ(table->rows[2].line, 4);
}

TEST(CsvTableTest, LinesAreCountedThroughQuotedLineEnds) {
  const auto table = ReadCsvTable("a,b\n\"one\ntwo\",x\ny,z", "f");
  ASSERT_TRUE(table);
  ASSERT_THAT(table->rows, SizeIs(3));
  EXPECT_EQ(table->rows[1].line, 2);
  EXPECT_EQ(table->rows[2].line, 4);
}

TEST(CsvTableTest, ReadsTabsBarsOldMacLinesAndTheSeparatorLine) {
  EXPECT_EQ(ReadCsvTable("a\tb\n1\t2", "f")->separator, '\t');
  EXPECT_EQ(ReadCsvTable("a|b\r1|2\r", "f")->rows.size(), 2u);
  const auto named = ReadCsvTable("sep=;\na;b,c\n1;2\n", "f");
  ASSERT_TRUE(named);
  EXPECT_THAT(named->rows[0].cells, ElementsAre("a", "b,c"));
  EXPECT_EQ(named->rows[0].line, 2);
}

TEST(CsvTableTest, SaysWhatAFileIsThatIsNoTable) {
  const auto why = [](std::string_view bytes) {
    const auto table = ReadCsvTable(bytes, "list.csv");
    return table ? std::string("read") : table.error().message;
  };
  EXPECT_THAT(why(""), HasSubstr("list.csv: the file is empty"));
  EXPECT_THAT(why("\n\n"), HasSubstr("no rows"));
  EXPECT_THAT(why("\xD0\xCF\x11\xE0rest"), HasSubstr("this is a workbook"));
  EXPECT_THAT(why("%PDF-1.4"), HasSubstr("PDF"));
  EXPECT_THAT(why(std::string_view("a\0b", 3)), HasSubstr("zero bytes"));
  EXPECT_THAT(why("a,b\n1,\"two\n3,4\n"), HasSubstr("line 2: a quote opens"));
  EXPECT_THAT(why(std::string_view("\xFF\xFE\x41", 3)), HasSubstr("UTF-16"));
}

// A cell that a spreadsheet would run is not run.
TEST(CsvTableTest, CellsOfOursReadBackAndRunNothing) {
  EXPECT_EQ(CsvCell("Lee, Ann"), "\"Lee, Ann\"");
  EXPECT_EQ(CsvCell("a \"b\""), "\"a \"\"b\"\"\"");
  EXPECT_EQ(CsvCell("=1+1"), "'=1+1");
  EXPECT_EQ(CsvCell("@x"), "'@x");
  EXPECT_EQ(CsvCell(""), "");
}

}  // namespace
}  // namespace nearpoint
