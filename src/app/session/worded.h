// Words for the screen that are made away from it: an English pattern, which the window translates, and the values
// that go into its places.
#pragma once

#include <string>
#include <vector>

namespace holdtrue::app {

// Marks a literal that ends up on the screen, so that the test of the translation table finds it.
constexpr const char* worded(const char* english) { return english; }

struct Words {
    const char* pattern = "";
    std::vector<std::string> values;
};

} // namespace holdtrue::app
