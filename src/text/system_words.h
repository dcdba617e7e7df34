// Why the system could not do something with a file, for a person: "the disk is full".
#pragma once

#include "text/sentence.h"

#include <system_error>

namespace holdtrue::text {

// What has no words of its own here is told in those of the system.
Sentence system_words(const std::error_code& error);

} // namespace holdtrue::text
