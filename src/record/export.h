// The record for other programs: CSV for a spreadsheet, JSON with everything, xAPI statements for a training
// provider's record store (IEEE 9274.1.1-2023, from memory, and the ADL xAPI 1.0.3 specification: actor, verb, object,
// result). Marks are told as they were found; whoever must rely on one works it out again from the plan.
#pragma once

#include "record/record.h"

#include <optional>
#include <string>
#include <string_view>

namespace holdtrue::record {

// RFC 4180, UTF-8, a heading line. A text that a spreadsheet would take for a formula gets a leading apostrophe.
std::string attempts_csv(const Record& record, std::optional<std::int64_t> trainee = {});
std::string answers_csv(const Record& record, std::optional<std::int64_t> trainee = {});

std::string as_json(const Record& record, std::optional<std::int64_t> trainee = {});

// Whether a record store takes it for the home of accounts: a scheme, "://" and an address, with no space and nothing
// else that RFC 3987 leaves out of an IRI.
bool is_home_of_accounts(std::string_view home);

// A JSON array with one statement for each attempt (verb passed or failed) and each answer (verb answered). The same
// record gives the same statement ids, so that sending twice does no harm. `home` is that of the training
// provider's accounts; a trainee is known there by its id, not by name, unless `with_names`.
std::string as_xapi(const Record& record, std::optional<std::int64_t> trainee, const std::string& home,
                    bool with_names);

std::string utc_text(Milliseconds at);          // "2026-05-04T09:30:00.000Z", ISO 8601
std::string duration_text(Milliseconds length); // "PT754.2S", ISO 8601

} // namespace holdtrue::record
