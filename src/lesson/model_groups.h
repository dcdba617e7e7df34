// The live models by subject; models() joins them.
#pragma once

#include "lesson/model.h"

namespace holdtrue::lesson {

std::vector<Model> safety_models(); // eyes, air, shock, noise, cylinders
std::vector<Model> arc_models();    // settings, bead, gas, duty
std::vector<Model> heat_models();   // peak temperature, cooling, preheat
std::vector<Model> pull_models();   // shrinkage, bow, angular pull
std::vector<Model> bench_models();  // fillets, plugs, tolerances, dials

} // namespace holdtrue::lesson
