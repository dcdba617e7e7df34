#include "text/input_error.h"
#include "text/toml_reader.h"
#include "text/toml_text.h"

#include <doctest/doctest.h>

using namespace holdtrue::text;

TEST_CASE("one key of the root is set, and nothing else is touched") {
    const std::string text = "# a plan\ntitle = \"t\" # its name\nhints = 1 # so far\n\n[[card]]\nhints = 9\n";
    CHECK(with_root_key(text, "hints", "2", "p") ==
          "# a plan\ntitle = \"t\" # its name\nhints = 2\n\n[[card]]\nhints = 9\n");
    CHECK(with_root_key(text, "trainee", in_quotes("A \"b\""), "p") == "trainee = \"A \\\"b\\\"\"\n" + text);
    CHECK(with_root_key("", "a", "1", "p") == "a = 1\n");
    CHECK(with_root_key("a = 0", "a", "1", "p") == "a = 1\n"); // without an end of line
    CHECK(with_root_key("a = 0\r\nb = 2\r\n", "a", "1", "p") == "a = 1\nb = 2\r\n");
    CHECK(with_root_key("\xef\xbb\xbf"
                        "b = 2\n",
                        "a", "1", "p") == "\xef\xbb\xbf"
                                          "a = 1\nb = 2\n");
}

TEST_CASE("what is not a key on one line is refused") {
    CHECK_THROWS_AS(with_root_key("a = ", "a", "1", "p"), InputError);
    CHECK_THROWS_AS(with_root_key("a = [\n1,\n2]\nb = 1\n", "a", "1", "p"), InputError);
    CHECK_THROWS_AS(with_root_key("a = \"\"\"x\ny = 1\n\"\"\"\n", "a", "1", "p"), InputError);
}
