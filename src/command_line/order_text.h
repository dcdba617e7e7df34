// A study of orders as text for a terminal, and for programs.
#pragma once

#include "order/study.h"

#include <string>

namespace holdtrue::command_line {

std::string study_text(const grading::Exercise& exercise, const weld::Plan& plan, const order::Study& study);
std::string study_json(const grading::Exercise& exercise, const weld::Plan& plan, const order::Study& study);

// "seam_top/4, then backwards seam_top/2": for a person who carries it out.
std::string order_text(const part::Part& part, const order::OrderSpace& space, const order::Order& order);

} // namespace holdtrue::command_line
