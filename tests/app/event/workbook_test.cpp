#include "app/event/workbook.h"

#include <gmock/gmock.h>
#include <zlib.h>

#include "app/event/roster.h"
#include "app/event/zip_archive.h"

namespace nearpoint {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
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
    directory += Little(0x02014b50, 4) + Little(20, 2) + common + Little(0, 2) + Little(0, 2);
    directory += Little(0, 2) + Little(0, 4) + Little(body.size(), 4) + name;
    body += Little(0x04034b50, 4);
    body.append(common).append(name).append(data);
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

// Sheets may be moved and hidden: what counts is what the person sees first.
TEST(WorkbookTest, TheFirstSheetIsTheFirstThatIsShown) {
  const auto sheet = [](const std::string& text) {
    return "<worksheet><sheetData><row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>" + text +
           "</t></is></c></row></sheetData></worksheet>";
  };
  const std::string book = Archive(
      {{"xl/workbook.xml",
        "<workbook><!-- <sheet r:id=\"rId9\"/> --><sheets><sheet name=\"x\" state=\"hidden\" "
        "r:id=\"rId1\"/><sheet name=\"y\" r:id=\"rId7\"/></sheets></workbook>"},
       {"xl/_rels/workbook.xml.rels",
        "<Relationships><Relationship Id=\"rId1\" Target=\"worksheets/sheet1.xml\"/>"
        "<Relationship Id=\"rId7\" Target=\"/xl/worksheets/sheet12.xml\"/></Relationships>"},
       {"xl/worksheets/sheet1.xml", sheet("hidden")},
       {"xl/worksheets/sheet12.xml", sheet("shown")}});
  const auto table = ReadWorkbook(book, "f.xlsx");
  ASSERT_TRUE(table) << table.error().message;
  EXPECT_THAT(table->rows[0].cells, ElementsAre("shown"));
}

std::string OpenDocument(const std::string& rows, const std::string& manifest = "<x/>") {
  return Archive({{"mimetype", "application/vnd.oasis.opendocument.spreadsheet"},
                  {"content.xml",
                   "<?xml version=\"1.0\"?><office:document-content><office:styles/>"
                   "<office:body><office:spreadsheet><table:calculation-settings/><table:table "
                   "table:name=\"List\"><table:table-column/>" +
                       rows +
                       "</table:table><table:table table:name=\"Other\"><table:table-row>"
                       "<table:table-cell><text:p>other</text:p></table:table-cell>"
                       "</table:table-row></table:table></office:spreadsheet></office:body>"
                       "</office:document-content>"},
                  {"META-INF/manifest.xml", manifest}});
}
std::string OdsText(const std::string& text) {
  return "<table:table-cell office:value-type=\"string\"><text:p>" + text +
         "</text:p></table:table-cell>";
}

TEST(WorkbookTest, ReadsOpenDocument) {
  const auto table = ReadWorkbook(
      OpenDocument(
          "<table:table-header-rows><table:table-row>" + OdsText("Name") + OdsText("Born") +
          OdsText("Class") + OdsText("Form") +
          "<table:table-cell table:number-columns-repeated=\"16380\"/></table:table-row>"
          "</table:table-header-rows>"
          "<table:table-row table:number-rows-repeated=\"2\"><table:table-cell "
          "table:number-columns-repeated=\"16384\"/></table:table-row>"
          "<table:table-row><table:table-cell office:value-type=\"string\"><office:annotation>"
          "<text:p>twin</text:p></office:annotation><text:p>Zo&#xEB;<text:s text:c=\"2\"/>&amp; "
          "<text:span>Co</text:span></text:p><text:p>second line</text:p></table:table-cell>"
          "<table:table-cell office:value-type=\"date\" office:date-value=\"2017-03-14T00:00:00\">"
          "<text:p>14.03.17</text:p></table:table-cell><table:table-cell "
          "office:value-type=\"float\" office:value=\"3\"><text:p>3,00</text:p></table:table-cell>"
          "<table:table-cell office:value-type=\"boolean\" office:boolean-value=\"true\">"
          "<text:p>WAHR</text:p></table:table-cell></table:table-row>"
          "<table:table-row table:number-rows-repeated=\"2\"><table:table-cell "
          "table:number-columns-repeated=\"2\"/><table:covered-table-cell/>" +
          OdsText("x") +
          "</table:table-row><table:table-row table:number-rows-repeated=\"1048570\">"
          "<table:table-cell table:number-columns-repeated=\"16384\"/></table:table-row>"),
      "f.ods");
  ASSERT_TRUE(table) << table.error().message;
  ASSERT_THAT(table->rows, SizeIs(4));
  EXPECT_THAT(table->rows[0].cells, ElementsAre("Name", "Born", "Class", "Form"));
  EXPECT_THAT(table->rows[1].cells,
              ElementsAre("Zoë  & Co\nsecond line", "2017-03-14", "3", "true"));
  EXPECT_EQ(table->rows[1].line, 4);
  EXPECT_THAT(table->rows[3].cells, ElementsAre("", "", "", "x"));
  EXPECT_EQ(table->rows[3].line, 6);
}

TEST(WorkbookTest, AnOpenDocumentIsReadOrRefusedWhateverStandsInIt) {
  const auto why = [](std::string_view bytes) {
    const auto table = ReadWorkbook(bytes, "f.ods");
    return table ? std::string("read") : table.error().message;
  };
  const std::string row = "<table:table-row>" + OdsText("a") + "</table:table-row>";
  const std::string book = OpenDocument(row);
  EXPECT_EQ(why(book), "read");
  for (std::size_t size = 0; size < book.size(); size += 7) {
    EXPECT_THAT(why(std::string_view(book).substr(0, size)), HasSubstr("f.ods"));
  }
  for (std::size_t at = 0; at < book.size(); at += 3) {
    std::string other = book;
    other[at] = static_cast<char>(other[at] ^ 0x55);
    static_cast<void>(why(other));
  }
  EXPECT_THAT(why(OpenDocument("")), HasSubstr("no rows"));
  EXPECT_THAT(why(OpenDocument(row, "<manifest:encryption-data/>")), HasSubstr("password"));
  EXPECT_THAT(why(Archive({{"content.xml", "<office:text/>"}})), HasSubstr("no sheet"));
}

TEST(WorkbookTest, AFewBytesDoNotBecomeAHugeTable) {
  const auto why = [](const std::string& bytes) {
    const auto table = ReadWorkbook(bytes, "f");
    return table ? std::string("read") : table.error().message;
  };
  // One row a million times, one cell in every column, and a far cell in many rows.
  EXPECT_THAT(why(OpenDocument("<table:table-row table:number-rows-repeated=\"999999999\">" +
                               OdsText("a") + OdsText("b") + "</table:table-row>")),
              HasSubstr("too large"));
  std::string wide;
  for (int i = 0; i < 2000; ++i) {
    wide +=
        "<table:table-row><table:table-cell table:number-columns-repeated=\"16384\"><text:p>a"
        "</text:p></table:table-cell></table:table-row>";
  }
  EXPECT_THAT(why(OpenDocument(wide)), HasSubstr("too large"));
  std::string far;
  for (int i = 0; i < 2000; ++i) far += "<row><c r=\"ALL1\" t=\"b\"><v>1</v></c></row>";
  EXPECT_THAT(why(Book(far)), HasSubstr("too large"));
  // One long text that every cell points at.
  std::string pointing;
  for (int i = 0; i < 100; ++i) pointing += "<row><c t=\"s\"><v>0</v></c></row>";
  EXPECT_THAT(why(Archive({{"xl/worksheets/sheet1.xml",
                            "<worksheet><sheetData>" + pointing + "</sheetData></worksheet>"},
                           {"xl/sharedStrings.xml",
                            "<sst><si><t>" + std::string(1 << 20, 'a') + "</t></si></sst>"}})),
              HasSubstr("too large"));
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
  // All files of it together count.
  const std::string two =
      Archive({{"a", std::string(3 << 20, '0')}, {"b", std::string(3 << 20, '0')}});
  EXPECT_FALSE(ReadZip(two, "f", all, 4 << 20));
}

}  // namespace
}  // namespace nearpoint
