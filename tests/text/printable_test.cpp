#include "text/printable.h"

#include <doctest/doctest.h>

using holdtrue::text::printable;

TEST_CASE("a text keeps its letters and loses what would steer a terminal") {
    CHECK(printable("Überlänge 20 °C, 日本, \xf0\x9f\x94\xa5") == "Überlänge 20 °C, 日本, \xf0\x9f\x94\xa5");
    CHECK(printable("a\x1b[31m\nb\x7f") == "a?[31m?b?");
    CHECK(printable("a\xc2\x9b"
                    "31m") == "a?31m"); // U+009B starts a command too
}

TEST_CASE("bytes that are no UTF-8 are marked one by one") { // RFC 3629
    CHECK(printable("b\xff\xc3") == "b??");
    CHECK(printable("\xc0\xaf") == "??");           // overlong
    CHECK(printable("\xe0\x80\x80") == "???");      // overlong
    CHECK(printable("\xed\xa0\x80") == "???");      // half of a surrogate pair
    CHECK(printable("\xf4\x90\x80\x80") == "????"); // beyond U+10FFFF
    CHECK(printable("ab\xe2\x82") == "ab??");       // cut off
}
