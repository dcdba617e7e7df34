// Reads a .plan.toml (lessons/AUTHORING.md lists every key) against the part and the shop that it is for.
#pragma once

#include "arc/shop.h"
#include "part/part.h"
#include "weld/plan.h"

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

namespace holdtrue::weld {

// Throws text::InputError with everything that is wrong with the file, weld/check_plan.h included.
Plan read_plan(const std::filesystem::path& path, const part::Part& part, const arc::Shop& shop);
Plan parse_plan(std::string_view toml, const std::string& file_name, const part::Part& part, const arc::Shop& shop);

// What stands at the head of a plan: what can be told of it without its part.
struct PlanHeading {
    std::filesystem::path file;
    std::string title, trainee, exercise;
    std::optional<int> variant;
    int variant_line = 0;
    int hints = 0;
};
// Throw text::InputError if the file cannot be read as TOML, or its head is wrong.
PlanHeading read_heading(const std::filesystem::path& plan_file);
PlanHeading parse_heading(std::string_view toml, const std::string& file_name);

// The exercise file that a plan file names, made relative to the working folder; empty if it names none.
// Throws text::InputError if the file cannot be read as TOML, or names a file that is not there.
std::filesystem::path exercise_of(const std::filesystem::path& plan_file);

} // namespace holdtrue::weld
