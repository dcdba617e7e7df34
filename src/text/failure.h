// Why something could not be done, for a person: what an exception that reaches the edge of the program says.
#pragma once

#include "text/sentence.h"

#include <exception>

namespace holdtrue::text {

// The lines of an InputError; what the system says of files and memory in words of ours. What is left has only the
// words of the library that threw it.
Sentence failure_words(const std::exception& error);

} // namespace holdtrue::text
