#include "app/event/workbook.h"

#include <gmock/gmock.h>
#include <zlib.h>

#include "app/event/roster.h"
#include "app/event/zip_archive.h"

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

std::string Little(std::size_t value, int bytes) {
  std::string text;
  for (int i = 0; i < bytes; ++i) text += static_cast<char>(value >> (8 * i) & 0xFF);
  return text;
}

std::string Deflated(const std::string& text) {
  std::string packed(text.size() + 100, '\0');
  z_stream stream{};
  deflateInit2(&stream, 9, Z_DEFLATED, -15, 8, Z_DEFAULT_STRATEGY);
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));
  stream.avail_in = static_cast<uInt>(text.size());
  stream.next_out = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_out = static_cast<uInt>(packed.size());
  deflate(&stream, Z_FINISH);
  packed.resize(stream.total_out);
  deflateEnd(&stream);
  return packed;
}

// An archive as other programs write it: every second file stored, the others packed.
std::string Archive(const std::vector<std::pair<std::string, std::string>>& files, int flags = 0) {
  std::string body, directory;
  bool pack = true;
  for (const auto& [name, text] : files) {
    const std::string data = pack ? Deflated(text) : text;
    const std::string common =
        Little(20, 2) + Little(static_cast<std::size_t>(flags), 2) + Little(pack ? 8 : 0, 2) +
        Little(0, 4) +
        Little(
            crc32(0, reinterpret_cast<const Bytef*>(text.data()), static_cast<uInt>(text.size())),
            4) +
        Little(data.size(), 4) + Little(text.size(), 4) + Little(name.size(), 2) + Little(0, 2);
    directory += Little(0x02014b50, 4) + Little(20, 2) + common + Little(0, 2) + Little(0, 2) +
                 Little(0, 2) + Little(0, 4) + Little(body.size(), 4) + name;
    body += Little(0x04034b50, 4) + common + name + data;
    pack = !pack;
  }
  return body + directory + Little(0x06054b50, 4) + Little(0, 4) + Little(files.size(), 2) +
         Little(files.size(), 2) + Little(directory.size(), 4) + Little(body.size(), 4) +
         Little(0, 2);
}

const std::string kShared =
    "<?xml version=\"1.0\"?><sst><si><t>Name</t></si><si><t>Born</t></si><si><r><t>Zo</t></r><r>"
    "<t xml:space=\"preserve\">&#235; &amp; Co</t></r></si><si/></sst>";
const std::string kStyles =
    "<styleSheet><numFmts><numFmt numFmtId=\"164\" formatCode=\"dd/mm/yyyy\"/></numFmts>"
    "<cellXfs><xf numFmtId=\"0\"/><xf numFmtId=\"14\"/><xf numFmtId=\"164\"/></cellXfs>"
    "</styleSheet>";

std::string Book(const std::string& rows) {
  return Archive(
      {{"xl/worksheets/sheet1.xml", "<worksheet><sheetData>" + rows + "</sheetData></worksheet>"},
       {"xl/sharedStrings.xml", kShared},
       {"xl/styles.xml", kStyles},
       {"docProps/app.xml", "<x/>"}});
}

const std::string kHeader =
    "<row r=\"1\"><c r=\"A1\" t=\"s\"><v>0</v></c><c r=\"B1\" t=\"s\"><v>1</v></c>"
    "<c r=\"C1\" t=\"inlineStr\"><is><t>Class</t></is></c></row>";

TEST(WorkbookTest, ReadsTextsNumbersDaysAndGaps) {
  const auto table = ReadWorkbook(
      Book(kHeader +
           "<row r=\"3\"><c r=\"A3\" t=\"s\"><v>2</v></c><c r=\"B3\" s=\"1\"><v>42808</v></c>"
           "<c r=\"C3\"><v>3</v></c></row><row r=\"4\"/>"
           "<row r=\"5\"><c r=\"B5\" s=\"2\"><f>TODAY()</f><v>42809.5</v></c></row>"),
      "f.xlsx");
  ASSERT_TRUE(table) << table.error().message;
  ASSERT_THAT(table->rows, SizeIs(3));
  EXPECT_THAT(table->rows[0].cells, ElementsAre("Name", "Born", "Class"));
  // Serial 42808 is 2017-03-14 (LibreOffice Calc; Python: date(1899, 12, 30) + timedelta(42808)).
  EXPECT_THAT(table->rows[1].cells, ElementsAre("Zoë & Co", "2017-03-14", "3"));
  EXPECT_EQ(table->rows[1].line, 3);
  EXPECT_THAT(table->rows[2].cells, ElementsAre("", "2017-03-15", ""));
}

TEST(WorkbookTest, ARosterMayBeOne) {
  RosterRules rules;
  rules.year = 2026, rules.month = 3, rules.day = 14;
  const auto roster =
      ReadRoster(Book(kHeader + "<row r=\"2\"><c r=\"A2\" t=\"inlineStr\"><is><t>Ann</t></is></c>"
                                "<c r=\"B2\" s=\"1\"><v>42808</v></c></row>"
                                "<row r=\"9\"><c r=\"A9\" t=\"e\"><v>#REF!</v></c></row>"),
                 "f.xlsx", rules);
  ASSERT_TRUE(roster);
  ASSERT_THAT(roster->children, SizeIs(1));
  EXPECT_NEAR(*roster->children[0].child.age_years, 9, 0.01);
  ASSERT_THAT(roster->faults, SizeIs(1));
  EXPECT_EQ(roster->faults[0].line, 9);
  EXPECT_EQ(roster->faults[0].kind, FaultKind::kErrorValue);
}

TEST(WorkbookTest, WhatIsDamagedIsSaid) {
  const auto why = [](std::string_view bytes) {
    const auto table = ReadWorkbook(bytes, "f.xlsx");
    return table ? std::string("read") : table.error().message;
  };
  const std::string book = Book(kHeader);
  EXPECT_EQ(why(book), "read");
  // Cut off anywhere, or with any byte changed, it is refused or read: never more than that.
  for (std::size_t size = 0; size < book.size(); size += 7) {
    EXPECT_THAT(why(std::string_view(book).substr(0, size)), HasSubstr("f.xlsx"));
  }
  for (std::size_t at = 0; at < book.size(); at += 3) {
    std::string other = book;
    other[at] = static_cast<char>(other[at] ^ 0x55);
    static_cast<void>(why(other));
  }
  EXPECT_THAT(why(Archive({{"word/document.xml", "<x/>"}})), HasSubstr("no sheet"));
  EXPECT_THAT(why(Book("")), HasSubstr("no rows"));
  EXPECT_THAT(why(Archive({{"xl/worksheets/sheet1.xml", "<x/>"}}, 1)), HasSubstr("password"));
  // The checksum stands against content that changed unseen.
  std::string changed = Archive({{"other", "x"}, {"xl/worksheets/sheet1.xml", "<row></row>"}});
  changed[changed.find("<row>") + 1] = 'c';
  EXPECT_THAT(why(changed), HasSubstr("damaged"));
}

TEST(WorkbookTest, ASmallArchiveDoesNotFillTheMemory) {
  const std::string bomb = Archive({{"a", std::string(3 << 20, '0')}});
  EXPECT_LT(bomb.size(), 10000u);
  const auto all = [](std::string_view) { return true; };
  EXPECT_FALSE(ReadZip(bomb, "f", all, 1 << 20));
  EXPECT_TRUE(ReadZip(bomb, "f", all, 4 << 20));
}

}  // namespace
}  // namespace nearpoint
