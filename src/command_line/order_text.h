// A study of orders as text for a terminal, and for programs.
#pragma once

#include "order/study.h"

#include <string>

namespace holdtrue::command_line {

std::string study_text(const grading::Exercise& exercise, const weld::Plan& plan, const order::Study& study);
std::string study_json(const grading::Exercise& exercise, const weld::Plan& plan, const order::Study& study);

} // namespace holdtrue::command_line
