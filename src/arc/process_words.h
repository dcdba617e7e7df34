// Welding processes as files and people write them: by their ISO 4063 number, with the common name beside it.
#pragma once

#include "arc/setting_card.h"
#include "text/sentence.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace holdtrue::arc {

std::string_view process_number(Process process); // "135"
text::Wording process_words(Process process);     // "MAG, solid wire"
std::optional<Process> process_by_number(std::string_view number);
std::vector<std::string> process_numbers();
// Whether the arc burns under a gas from a bottle.
bool needs_gas(Process process);

} // namespace holdtrue::arc
