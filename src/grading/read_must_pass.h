// Reads the key must_pass of an exercise, or of a choice of a variant: names of gauges of the part, ids of rules of the
// book, must_be_tacked or must_stay_cool (exercise.h). Another name would never be missed: it is a problem of the
// table's file. Empty if the key is left out.
#pragma once

#include "arc/rule_book.h"
#include "part/part.h"
#include "text/toml_reader.h"

#include <string>
#include <vector>

namespace holdtrue::grading {

std::vector<std::string> read_must_pass(text::Table& table, const part::Part& part, const arc::RuleBook& rules);

} // namespace holdtrue::grading
