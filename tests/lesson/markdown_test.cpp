#include "lesson/markdown.h"

#include <doctest/doctest.h>

using namespace holdtrue::lesson;

TEST_CASE("headings, paragraphs and styles") {
    const auto blocks = parse_markdown("# One\n\nPlain **bold** and *leaning* `code`\nsecond line & more &amp; <b>\n");
    REQUIRE(blocks.size() == 2);
    CHECK(blocks[0].kind == BlockKind::heading);
    CHECK(blocks[0].level == 1);
    CHECK(plain_text(blocks[1].text) == "Plain bold and leaning code second line & more & <b>");
    REQUIRE(blocks[1].text.size() >= 6);
    CHECK(blocks[1].text[1].strong);
    CHECK(blocks[1].text[3].emphasis);
    CHECK(blocks[1].text[5].code);
    CHECK(!blocks[1].text[6].code);
}

TEST_CASE("lists nest and count, and later paragraphs of an item have no bullet") {
    const auto blocks = parse_markdown("3. three\n\n   more\n4. four\n   - inside\n\nafter\n");
    REQUIRE(blocks.size() == 5);
    CHECK(blocks[0].number == 3);
    CHECK(blocks[0].bullet);
    CHECK(!blocks[1].bullet);
    CHECK(plain_text(blocks[1].text) == "more");
    CHECK(blocks[2].number == 4);
    CHECK(blocks[3].level == 2);
    CHECK(blocks[3].number == 0);
    CHECK(blocks[4].kind == BlockKind::paragraph);
}

TEST_CASE("quotes are cautions") {
    const auto blocks = parse_markdown("> **Caution.** hot\n> metal\n\ncold\n");
    REQUIRE(blocks.size() == 2);
    CHECK(blocks[0].caution);
    CHECK(plain_text(blocks[0].text) == "Caution. hot metal");
    CHECK(!blocks[1].caution);
}

TEST_CASE("tables keep rows and cells") {
    const auto blocks = parse_markdown("| a | b |\n|---|--:|\n| 1 | **2** |\n| 3 | |\n");
    REQUIRE(blocks.size() == 1);
    REQUIRE(blocks[0].rows.size() == 3);
    CHECK(plain_text(blocks[0].rows[1][1]) == "2");
    CHECK(blocks[0].rows[1][1][0].strong);
    CHECK(plain_text(blocks[0].rows[2][1]).empty());
}

TEST_CASE("any bytes are taken as text") {
    CHECK(parse_markdown("").empty());
    for (const char* odd : {"> ", "- ", "1.", "| |\n|-|", "```\ncode", "***", "[a](b) ![c](d)", "\xff\xfe\x00 x",
                            "> - > - x", "- \n\n  x\n- > y\n  > - z\n", "# \n", "\\", "`", "a  \nb"})
        CHECK_NOTHROW(parse_markdown(odd));
}
