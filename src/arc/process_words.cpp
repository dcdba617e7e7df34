#include "arc/process_words.h"

#include "text/verify.h"

#include <algorithm>
#include <array>

namespace holdtrue::arc {
namespace {

struct Row {
    Process process;
    std::string_view number;
    text::Wording words;
};

constexpr std::array rows{Row{Process::mag_135, "135", text::worded("MAG, solid wire")},
                          Row{Process::mig_131, "131", text::worded("MIG, solid wire, inert gas")},
                          Row{Process::fcaw_gas_136, "136", text::worded("flux-cored wire with gas")},
                          Row{Process::fcaw_self_114, "114", text::worded("self-shielded flux-cored wire")},
                          Row{Process::tig_141, "141", text::worded("TIG")}};

const Row& row_of(Process process) {
    const auto found = std::ranges::find(rows, process, &Row::process);
    VERIFY(found != rows.end(), "every process has a row");
    return *found;
}

} // namespace

std::string_view process_number(Process process) { return row_of(process).number; }
text::Wording process_words(Process process) { return row_of(process).words; }

std::optional<Process> process_by_number(std::string_view number) {
    const auto found = std::ranges::find(rows, number, &Row::number);
    return found == rows.end() ? std::nullopt : std::optional(found->process);
}

std::vector<std::string> process_numbers() {
    std::vector<std::string> numbers;
    for (const Row& row : rows)
        numbers.emplace_back(row.number);
    return numbers;
}

bool needs_gas(Process process) { return process != Process::fcaw_self_114; }

} // namespace holdtrue::arc
