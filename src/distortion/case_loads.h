// The loads of a shell case, added to what is there.
#pragma once

#include "distortion/case_places.h"
#include "distortion/shell_case.h"

#include <optional>

namespace holdtrue::distortion {

void read_point_load(text::Table& table, const CasePlaces& places, ShellCase& into);
void read_edge_load(text::Table& table, const CasePlaces& places, ShellCase& into);
void read_surface_load(text::Table& table, const CasePlaces& places, ShellCase& into);
// `expansion_per_k` [1/K]: none is a problem.
void read_thermal_load(text::Table& table, const CasePlaces& places, std::optional<double> expansion_per_k,
                       ShellCase& into);

} // namespace holdtrue::distortion
