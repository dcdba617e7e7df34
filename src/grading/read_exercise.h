// Reads a .exercise.toml (lessons/AUTHORING.md lists every key) with the part and shop it names.
#pragma once

#include "grading/exercise.h"

namespace holdtrue::grading {

// In a variant (grading/variant.h): 0 as written, otherwise 1 to Exercise::variant_count.
// Throws text::InputError with everything that is wrong with the exercise, or with its part or shop.
Exercise read_exercise(const std::filesystem::path& path, int variant = 0);

} // namespace holdtrue::grading
